"""`kilter records` as a person meets it: what is printed, what lies on the disk, and the exit code."""

import json
import shutil
import subprocess

import pytest
from tests.records import frame

from kilter.cli import main
from kilter.records.canonical import canonical
from kilter.records.code import packed


@pytest.fixture
def library(tmp_path, monkeypatch):
    shutil.copytree(frame.ROOT / "procedures", tmp_path / "procedures")
    shutil.copy(frame.ROOT / "mkdocs.yml", tmp_path)
    monkeypatch.chdir(tmp_path)
    return tmp_path


@pytest.fixture
def phone(library):
    frame.save(library / "phone", frame.run())
    frame.save(library / "phone", frame.run(id=frame.uuid_of(2), asset="0043", upto=3))
    frame.save(library / "phone", frame.remark())
    return library / "phone"


def tree(folder):
    return {
        f.relative_to(folder).as_posix(): f.read_bytes() for f in sorted(folder.rglob("*")) if f.is_file()
    }


def test_taking_in_prints_what_came_and_a_code_for_each(phone, capsys):
    assert main(["records", "take", str(phone)]) == 0
    out = capsys.readouterr().out
    assert "3 files checked: nothing to mend" in out
    assert "STR-110 B, 0042, left as found: new" in out and "3 records received, kept in records" in out
    (receipt,) = (phone.parent / "records" / "receipts").iterdir()
    given = json.loads(receipt.read_text())
    assert {r["digest"] for r in given["records"]} == {
        json.loads(f.read_text())["digest"] for f in phone.iterdir()
    }
    assert main(["records", "take", str(phone)]) == 0
    assert "received before" in capsys.readouterr().out
    assert len(list((phone.parent / "records" / "taken").glob("*.json"))) == 3


def test_what_is_wrong_has_its_place_and_nothing_of_it_is_taken(phone, capsys):
    bad = frame.run(id=frame.uuid_of(3))
    bad["entries"][1]["verdict"] = "fail"
    file = frame.save(phone, frame.sealed(bad), "bad.json")
    column = file.read_text().index('"fail"') + 1
    assert main(["records", "take", "phone"]) == 1
    out = capsys.readouterr().out
    assert (
        f"phone/bad.json:1:{column}: error: 8.0 mm against 8.0–8.3 mm is `too close to call`, not `fail`"
        in out
    )
    assert "help: the record does not match the document that it names" in out
    assert "3 records received" in out
    assert file.exists()


def test_checking_takes_nothing_in(phone, capsys):
    assert main(["records", "check", "phone"]) == 0
    assert "3 records in order; nothing was taken in" in capsys.readouterr().out
    assert not (phone.parent / "records").exists()


def test_an_unknown_number_is_refused_and_an_older_revision_is_taken_with_a_warning(phone, capsys):
    frame.save(phone, frame.sealed({**frame.run(id=frame.uuid_of(4)), "document": "XYZ-1"}), "unknown.json")
    frame.save(
        phone,
        frame.sealed({**frame.run(id=frame.uuid_of(5)), "revision": "A", "hash": "1" * 64}),
        "older.json",
    )
    assert main(["records", "take", "phone"]) == 1
    out = capsys.readouterr().out
    assert "error: no document has the number `XYZ-1` in this library" in out
    assert (
        "warning: can't be checked against its document: revision A of STR-110 (111111111111) is not in this library"
        in out
    )
    assert "4 records received" in out
    main(["records", "list"])
    assert "never checked against its document: revision A is not known here" in capsys.readouterr().out


def test_a_record_of_an_older_revision_is_checked_where_its_plan_was_kept(phone, library, capsys):
    """After the first import the plan is kept: the document may change, and later records of the old one are checked."""
    assert main(["records", "take", "phone"]) == 0
    text = next((library / "procedures").rglob("str-110-*.md"))
    text.write_text(
        text.read_text(encoding="utf-8")
        .replace("revision: B", "revision: C")
        .replace("8.0–8.3 mm", "8.0–8.4 mm"),
        encoding="utf-8",
    )
    late = frame.run(id=frame.uuid_of(6), asset="0050")
    frame.save(library / "late", late)
    wrong = frame.run(id=frame.uuid_of(7), asset="0051")
    wrong["entries"][1]["limits"] = "7.0–8.3 mm"
    frame.save(library / "late", frame.sealed(wrong), "wrong.json")
    capsys.readouterr()
    assert main(["records", "take", "late"]) == 1
    out = capsys.readouterr().out
    assert (
        "STR-110 revision B says `8.0–8.3 mm`" in out
        and "1 error" in out
        and "warning" not in out.splitlines()[-4]
    )
    assert "1 record received" in out


def test_a_list_of_records_in_one_file_and_codes_are_taken(library, capsys):
    (library / "phone").mkdir()
    records = [frame.run(id=frame.uuid_of(n), asset=str(n), upto=3) for n in range(3)]
    (library / "phone" / "all.json").write_text(
        "[" + ",".join(map(canonical, records)) + "]", encoding="utf-8"
    )
    (library / "phone" / "scanned.txt").write_text(packed(canonical(frame.remark())) + "\n")
    (library / "phone" / "cut.txt").write_text(packed(canonical(frame.run()))[:-7])
    assert main(["records", "take", "phone"]) == 1
    out = capsys.readouterr().out
    assert "4 records received" in out
    assert "phone/cut.txt:1:1: error: the code" in out


def test_a_picture_of_a_code_is_read(library, capsys):
    pytest.importorskip("zxingcpp")
    pytest.importorskip("pypdfium2")
    import segno

    text = packed(canonical(frame.remark()))
    segno.make_qr(text, error="l", boost_error=False).save(str(library / "code.png"), scale=6, border=4)
    assert main(["records", "take", "code.png"]) == 0
    assert "remark: new" in capsys.readouterr().out


def test_lists_tell_what_a_person_should_know(phone, capsys):
    bad = frame.run(values=["7.2"], id=frame.uuid_of(8), asset="0099", previous="2" * 64)
    frame.save(phone, bad)
    changed = frame.run()
    changed["entries"][1]["value"], changed["entries"][1]["verdict"] = "8.1", "pass"
    frame.save(phone, frame.sealed(changed))
    assert main(["records", "take", "phone"]) == 0
    capsys.readouterr()
    assert main(["records", "list", "--open"]) == 0
    lines = capsys.readouterr().out.splitlines()
    assert len([line for line in lines if "0043" in line]) == 1 and not any("0042" in line for line in lines)
    main(["records", "list", "--asset", "0099"])
    out = capsys.readouterr().out
    assert (
        "found out of limits" in out
        and "the record before it on that phone (222222222222) has not come in" in out
    )
    main(["records", "list", "--document", "str-110"])
    out = capsys.readouterr().out
    assert out.count("came in versions that differ; settle with: kilter records settle ") == 2
    digest = out.split("kilter records settle ")[1].split()[0]
    assert main(["records", "settle", digest]) == 0
    main(["records", "list"])
    out = capsys.readouterr().out
    assert "versions that differ" not in out and "decided: counts" in out and "decided: left out" in out


def test_remarks_are_listed_until_they_are_answered(phone, capsys):
    main(["records", "take", "phone"])
    capsys.readouterr()
    main(["records", "remarks"])
    out = capsys.readouterr().out
    assert "The arrow points to the wrong screw." in out and out.endswith("1 remark open\n")
    id = out.split()[0]
    assert main(["records", "answer", id, "Arrow moved in revision C."]) == 0
    capsys.readouterr()
    main(["records", "remarks"])
    assert capsys.readouterr().out == "0 remarks open\n"
    main(["records", "remarks", "--all"])
    assert "answered: Arrow moved in revision C." in capsys.readouterr().out


def test_a_table_with_the_names_of_the_shop(phone, library, capsys):
    main(["records", "take", "phone"])
    (library / "columns.toml").write_text('[columns]\n"work order" = "WO_NO"\nvalue = "=MEAS"\n')
    assert main(["records", "csv", "--to", "out.csv", "--columns", "columns.toml", "--asset", "0042"]) == 0
    data = (library / "out.csv").read_bytes()
    assert data.startswith(b"\xef\xbb\xbfWO_NO,'=MEAS\r\nWO-77,8.0\r\n") and data.endswith(b"\r\n")
    (library / "columns.toml").write_text('[columns]\n"workorder" = "WO_NO"\n')
    assert main(["records", "csv", "--to", "out.csv", "--columns", "columns.toml"]) == 2
    assert "no column `workorder`; did you mean `work order`?" in capsys.readouterr().err
    assert (library / "out.csv").read_bytes() == data


def test_a_page_carries_the_record(phone, library, capsys):
    pikepdf = pytest.importorskip("pikepdf")
    main(["records", "take", "phone"])
    data = frame.run()
    assert main(["records", "page", data["id"][:8], "--to", "page.pdf"]) == 0
    with pikepdf.open(library / "page.pdf") as pdf:
        assert pdf.attachments["record.json"].get_file().read_bytes().decode() == canonical(data)
        assert pdf.Root.MarkInfo.Marked and str(pdf.Root.Lang) == "en"
    first = (library / "page.pdf").read_bytes()
    main(["records", "page", data["id"][:8], "--to", "page.pdf"])
    assert (library / "page.pdf").read_bytes() == first
    if shutil.which("pdftotext"):
        text = subprocess.run(
            ["pdftotext", "-layout", "page.pdf", "-"], capture_output=True, text=True, check=True
        ).stdout
        for part in (
            "Machine left as found.",
            "8.0 ± 0.02 mm",
            "too close to call",
            data["digest"],
            "WO-77",
            "Asset number",
        ):
            assert part in text


def test_a_receipt_can_be_had_again(phone, library, capsys):
    main(["records", "take", "phone", "--qr", "qr.png"])
    first = capsys.readouterr().out
    assert main(["records", "receipt", "--to", "again.json"]) == 0
    codes = [line.split()[0] for line in capsys.readouterr().out.splitlines() if line.startswith("  ")]
    assert len(codes) == 3 and all(code in first for code in codes)
    given = json.loads((library / "again.json").read_text())
    assert given["schema"] == "kilter-receipt-1" and len(given["records"]) == 3
    pytest.importorskip("zxingcpp")
    from kilter.publish.paper.scan import read_file

    assert {seen.text for seen in read_file(library / "qr.png").codes} == {"KRR1:" + " ".join(codes)}


def test_a_build_s_documents_are_remembered_for_later(library, capsys):
    out = library / "out"
    (out / "site").mkdir(parents=True)
    from kilter.publish.run.plan import plan_script

    plan = frame.plan()
    (out / "site" / "str-110.html").write_text(
        f'<p>x</p><script type="application/json" id="plan">{plan_script(plan)}</script>', encoding="utf-8"
    )
    about = {"revision": "B", "hash": plan["hash"], "page": "site/str-110.html", "cards": []}
    (out / "built.json").write_text(
        json.dumps({"version": "1", "documents": {"STR-110": about}, "equipment": {}, "withheld": {}})
    )
    assert main(["records", "keep", "out"]) == 0
    assert "1 document remembered" in capsys.readouterr().out
    assert json.loads((library / "records" / "plans" / f"{plan['hash']}.json").read_text()) == plan
    assert main(["records", "keep", "out"]) == 0
    assert "0 documents remembered" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["take", "nowhere"], "nowhere: no such file or folder"),
        (["take", "empty"], "empty: no records in it: looked for .json and .txt"),
        (["page", "abc", "--to", "x.pdf"], "no record's id begins with `abc`"),
        (["keep", "empty"], "not there; name the output folder of a build"),
        (["csv", "--to", "x.csv", "--columns", "none.toml"], "none.toml: no such file"),
        (["receipt"], "records: no records in it"),
        (["--library"], None),
    ],
)
def test_what_can_not_be_done_is_said_in_one_line(library, capsys, words, said):
    (library / "empty").mkdir()
    if said is None:
        with pytest.raises(SystemExit) as trouble:
            main(["records", *words])
        assert trouble.value.code == 2
        return
    assert main(["records", *words]) == 2
    err = capsys.readouterr().err
    assert said in err and "Traceback" not in err and err.count("\n") == 1


def test_without_a_library_it_says_what_is_missing(tmp_path, monkeypatch, capsys):
    monkeypatch.chdir(tmp_path)
    assert main(["records", "list"]) == 2
    assert "mkdocs.yml: not there" in capsys.readouterr().err


def test_counting_says_how_much_it_does_not_know(library, capsys):
    for n in range(10):
        frame.save(library / "phone", frame.run(values=["8.1"], id=frame.uuid_of(20 + n), asset=f"A{n}"))
    main(["records", "take", "phone"])
    capsys.readouterr()
    assert main(["records", "count"]) == 0
    out = capsys.readouterr().out
    assert "STR-110: lever height (8.0–8.3 mm), as found" in out
    assert "0 of 10 out of limits on 10 machines; up to 26 % of all may be (95 %)" in out
    assert "drift: no machine was left and found again" in out
