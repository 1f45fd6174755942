"""`kilter card verify`: what a code, a hash, a photo or a file says of the paper it is from."""

from __future__ import annotations

import io
import struct
import zlib
from pathlib import Path

import pikepdf
import pypdfium2
import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image

from kilter.cli import main
from kilter.outcome import CouldNotRunError
from kilter.publish.cards.family import code_of, kinds_for, make
from kilter.publish.paper import scan
from kilter.publish.paper.code import LONGEST, NotACodeError, Said, read_code, shown
from kilter.publish.paper.verify import Register, State, register
from kilter.publish.prepare import Prepared, machines, prepare

from .frame import demo

SITE = "https://procedures.tolbeck-vale.example/"


@pytest.fixture(scope="module")
def ready(tmp_path_factory) -> Prepared:
    return prepare(demo(tmp_path_factory.mktemp("library")) / "procedures")


@pytest.fixture(scope="module")
def known(ready) -> Register:
    return register(ready)


@pytest.fixture
def library(tmp_path, monkeypatch):
    monkeypatch.chdir(demo(tmp_path))
    return tmp_path


def view_of(ready: Prepared, number: str):
    return next(v for v in ready.views if v.number == number)


def ask(code: str, known: Register) -> State:
    return known.judge(read_code(code)).state


def test_every_card_of_the_library_is_current(ready, known):
    subjects = [*ready.views, *machines(ready)]
    asked = 0
    for subject in subjects:
        for kind in kinds_for(subject):
            code = code_of(kind, subject)
            text = f"{code.address}?rev={code.revision}&hash={code.hash}"
            assert ask(text, known) is State.CURRENT, text
            assert ask(code.hash, known) is State.CURRENT
            assert kind.title in " ".join(known.judge(read_code(text)).lines)
            asked += 1
    assert asked > 30


def test_what_is_printed_on_the_paper_decides(ready, known):
    view = view_of(ready, "STR-110")
    assert view.front.revision == "B"
    page = f"{SITE}str-110.html"
    wrong = f"{int(view.short_hash, 16) ^ 1:012x}"
    states = {
        f"{page}?rev=A&hash={wrong}": State.OLDER,
        f"{page}?rev=B&hash={wrong}": State.CHANGED,
        f"{page}?rev=C&hash={wrong}": State.NEWER,
        f"{page}?rev=AA&hash={wrong}": State.NEWER,
        f"{page}?rev=A&hash={view.short_hash}": State.OLDER,
        f"{SITE}str-999.html?rev=A&hash={wrong}": State.UNKNOWN,
        f"https://elsewhere.example/str-110.html?rev=B&hash={view.short_hash}": State.ELSEWHERE,
        f"str-110.html?rev=B&hash={view.short_hash}": State.ELSEWHERE,
        f"{SITE[:-1]}.evil.example/str-110.html?rev=B&hash={view.short_hash}": State.ELSEWHERE,
        f"{page.upper().replace('HTTPS', 'http')}?rev=B&hash={view.short_hash.upper()}": State.CURRENT,
        wrong: State.UNKNOWN,
        f" {view.hash}\n": State.CURRENT,
    }
    assert {code: ask(code, known) for code in states} == states


def test_the_answer_says_what_the_library_holds_and_what_to_do(ready, known):
    view = view_of(ready, "STR-110")
    lines = " ".join(known.judge(Said("procedures.tolbeck-vale.example/str-110.html", "A", "0" * 12)).lines)
    assert "this paper is revision A, hash 000000000000" in lines
    assert f"revision B, hash {view.short_hash}" in lines and "Don't work from this paper" in lines
    assert "kilter print STR-110" in lines


def test_a_paper_is_out_of_date_once_its_document_is_changed(library, ready, capsys):
    view = view_of(ready, "STR-110")
    code = f"{view.url}?rev=B&hash={view.short_hash}"
    assert main(["card", "verify", code]) == 0
    file = library / "procedures" / "stretcher" / "str-110-rail-latch-switch.md"
    text = file.read_text(encoding="utf-8")
    file.write_text(text.replace("Look for the cause", "Look at once for the cause"), encoding="utf-8")
    assert main(["card", "verify", code]) == 1
    assert "CHANGED SINCE PRINTING" in capsys.readouterr().out
    file.write_text(text.replace("revision: B", "revision: C"), encoding="utf-8")
    assert main(["card", "verify", code]) == 1
    assert "OUT OF DATE: this paper is revision B" in capsys.readouterr().out
    file.write_text(text.replace("{isolates}", "", 1), encoding="utf-8")
    assert main(["card", "verify", code]) == 1
    assert (
        "WITHHELD: STR-110 Set the rail latch switch is not published now: it has errors"
        in capsys.readouterr().out
    )
    file.unlink()
    assert main(["card", "verify", code]) == 1
    assert "UNKNOWN: this library has no str-110.html" in capsys.readouterr().out


def test_the_worst_of_several_decides(library, ready, capsys):
    good = view_of(ready, "LFT-120").short_hash
    assert main(["card", "verify", good, "0" * 12]) == 1
    assert [line.split(":")[0] for line in capsys.readouterr().out.splitlines() if line[0] != " "] == [
        "CURRENT",
        "UNKNOWN",
    ]


@pytest.mark.parametrize(
    "text",
    [
        "",
        " ",
        "x",
        "0" * 11,
        "0" * 13,
        "g" * 12,
        "STR-110",
        "https://a.example/str-110.html",
        "https://a.example/x.html?rev=B",
        "https://a.example/x.html?rev=B&hash=0",
        "https://a.example/x.html?rev=B&rev=A&hash=000000000000",
        "https://a.example/x.html?rev=I&hash=000000000000",
        "https://a.example/x.html?rev=../../etc&hash=000000000000",
        "javascript:alert(1)?rev=B&hash=000000000000",
        "file:///etc/passwd?rev=B&hash=000000000000",
        "https://user@a.example/x.html?rev=B&hash=000000000000",
        "https://[::1/x.html?rev=B&hash=000000000000",
        "https://a.example/x?" + "&".join(f"a{n}=1" for n in range(50)),
        "https://a.example/" + "x" * LONGEST,
        "\x1b]0;title\x07?rev=B&hash=000000000000",
        "https://a.example/\u202egpj.html?rev=B&hash=000000000000",
        "٠" * 12,
    ],
)
def test_what_is_no_code_is_said_to_be_none(library, capsys, text):
    with pytest.raises(NotACodeError):
        read_code(text)
    assert main(["card", "verify", text]) == 2
    error = capsys.readouterr().err
    assert (
        error.startswith("kilter: ")
        and error.count("\n") == 1
        and error[:-1].isprintable()
        and len(error) < 250
    )


@given(st.text(max_size=80) | st.text("htps:/.?&=%[]@#-abrevhs01 ", max_size=90))
def test_any_text_is_a_code_or_none(text):
    said, words = None, ""
    try:
        said = read_code(text)
    except NotACodeError as trouble:
        words = str(trouble)
    assert words.isprintable() and (words or (said is not None and len(said.hash) == 12))


@given(st.text(max_size=200))
def test_foreign_text_is_shown_on_one_line(text):
    assert shown(text).isprintable()


# files


@pytest.fixture
def card(library, ready) -> Path:
    view = view_of(ready, "LFT-120")
    file = library / "card.pdf"
    file.write_bytes(make(next(k for k in kinds_for(view) if k.main), view))
    return file


def test_a_pdf_is_read_page_by_page(card, capsys):
    assert main(["card", "verify", "card.pdf"]) == 0
    said = capsys.readouterr().out
    with pikepdf.open(card) as pdf:
        count = len(pdf.pages)
    assert said.startswith(f"card.pdf, pages 1–{count} of {count}\nCURRENT: LFT-120 ")


def test_the_printers_file_is_read_too(library, capsys):
    main(["print", "LFT-120", "roan-3", "--layout", "same"])
    capsys.readouterr()
    assert main(["card", "verify", "print.pdf"]) == 0
    said = capsys.readouterr().out
    assert "CURRENT: LFT-120 " in said and "CURRENT: roan-3 " in said


def test_a_poor_scan_is_read(card, capsys):
    """Grey, 110 dpi, turned by 3 degrees and compressed hard: as a copier or a shaky hand leaves it."""
    page = pypdfium2.PdfDocument(card.read_bytes())[0].render(scale=110 / 72, grayscale=True).to_pil()
    turned = page.rotate(3, expand=True, fillcolor=255, resample=Image.Resampling.BILINEAR)
    turned.save("scan.jpg", quality=60)
    assert main(["card", "verify", "scan.jpg"]) == 0
    assert "CURRENT: LFT-120 " in capsys.readouterr().out


def test_a_picture_without_a_code_says_how_to_take_a_better_one(library, capsys):
    Image.new("L", (300, 300), 255).save("blank.png")
    assert main(["card", "verify", "blank.png"]) == 2
    assert "no card's QR code found in it; take the photo closer" in capsys.readouterr().err


def test_a_code_that_is_on_no_card_is_told(library, capsys):
    import segno

    segno.make_qr("https://shop.example/sale").save("other.png", scale=6)
    assert main(["card", "verify", "other.png"]) == 2
    assert "the code in it says `https://shop.example/sale`, which is on no card" in capsys.readouterr().err


def bomb() -> bytes:
    """A PNG that says it has 60,000 x 60,000 pixels."""
    head = struct.pack(">IIBBBBB", 60000, 60000, 8, 0, 0, 0, 0)
    chunk = b"IHDR" + head
    return b"\x89PNG\r\n\x1a\n" + struct.pack(">I", 13) + chunk + struct.pack(">I", zlib.crc32(chunk))


def pages_of(*boxes: tuple[float, float]) -> bytes:
    stream = io.BytesIO()
    with pikepdf.new() as pdf:
        for box in boxes:
            pdf.add_blank_page(page_size=(10, 10)).MediaBox = pikepdf.Array([0, 0, *box])
        pdf.save(stream)
    return stream.getvalue()


def locked() -> bytes:
    stream = io.BytesIO()
    with pikepdf.new() as pdf:
        pdf.add_blank_page()
        pdf.save(stream, encryption=pikepdf.Encryption(owner="a", user="b"))
    return stream.getvalue()


HOSTILE = {
    "empty.pdf": b"",
    "text.pdf": b"hello",
    "cut.pdf": b"%PDF-1.7\n1 0 obj\n<< /Type /Catalog /Pages 2 0 R >>\n",
    "noise.pdf": b"%PDF-1.7\n" + bytes(range(256)) * 400,
    "locked.pdf": locked(),
    "huge.pdf": pages_of((1e7, 1e7)),
    "flat.pdf": pages_of((0, 100), (1e7, 0.001), (-5, -5)),
    "many.pdf": pages_of(*[(10, 10)] * 301),
    "bomb.png": bomb(),
    "cut.png": bomb()[:20],
    "text.jpg": b"hello",
    "svg.png": b"<svg xmlns='http://www.w3.org/2000/svg'/>",
}


@pytest.mark.parametrize("name", HOSTILE)
def test_a_foreign_file_gives_a_message_not_a_crash(library, capsys, name):
    (library / name).write_bytes(HOSTILE[name])
    assert main(["card", "verify", name]) == 2
    error = capsys.readouterr().err
    assert error.startswith(f"kilter: {name}: ") and error.count("\n") == 1 and "Traceback" not in error


def test_a_damaged_card_gives_an_answer_or_a_message(card, capsys):
    data = card.read_bytes()
    for n in range(0, len(data), len(data) // 4):
        (card.parent / "damaged.pdf").write_bytes(data[:n] + bytes(64) + data[n + 64 :])
        assert main(["card", "verify", "damaged.pdf"]) in (0, 2)
        assert "Traceback" not in capsys.readouterr().err


@pytest.mark.parametrize("given", ["nowhere.pdf", "IMG_1.JPG", "procedures", "a" * 5000 + ".pdf", "a\0.pdf"])
def test_a_file_that_is_not_there(library, capsys, given):
    assert main(["card", "verify", given]) == 2
    assert len(capsys.readouterr().err) < 250


def test_without_the_extra_a_file_is_refused_with_the_way_out_and_a_code_still_read(
    card, ready, capsys, monkeypatch
):
    monkeypatch.setattr(scan, "find_spec", lambda name: None)
    assert main(["card", "verify", "card.pdf"]) == 2
    assert "pip install 'kilter[scan]'" in capsys.readouterr().err
    assert main(["card", "verify", view_of(ready, "LFT-120").short_hash]) == 0


def test_a_reader_that_hangs_is_stopped(card, monkeypatch):
    monkeypatch.setattr(scan, "SECONDS", 0.001)
    with pytest.raises(CouldNotRunError, match="took too long"):
        scan.read_file(card)


def test_no_library_is_said(tmp_path, monkeypatch, capsys):
    monkeypatch.chdir(tmp_path)
    assert main(["card", "verify", "0" * 12]) == 2
    assert "no documents here" in capsys.readouterr().err
