"""What a phone writes is what Python reads: both halves on thousands of seeded cases, in a real browser."""

import hashlib
import random
import re
import shutil
import unicodedata
from datetime import UTC, datetime
from decimal import Decimal
from fractions import Fraction
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest
from tests.publish.site_browser import browser, need_browser, served, watch
from tests.records import frame

from kilter.compute import answerfit
from kilter.compute.decision import judge
from kilter.model.record import NUMBER
from kilter.records import code, receipt
from kilter.records.against import uncertainty_at
from kilter.records.canonical import canonical, digest_of, plain
from kilter.records.table import table_of

pytestmark = pytest.mark.browser
APP = Path(__file__).parent.parent.parent / "builder" / "kilter" / "publish" / "site" / "app"
MODULES = (
    "canonical",
    "sha256",
    "uuid",
    "decimal",
    "verdict",
    "clock",
    "csv",
    "record",
    "code",
    "receipt",
    "answerfit",
)
SIGNS = ["a", "7", '"', "\\", "/", "\n", "\t", "\u0001", "\u007f", "\u2028", "\u2029", "é", "e\u0301", "Å", "\u212b", "Ω", "\u2126", "µ", "μ", "ﬁ", "가", "\u1100\u1161", "م", "\u200d", "😀", "<", "&", "'", " "]  # fmt: skip


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    need_browser()
    made = tmp_path_factory.mktemp("app")
    for name in MODULES:
        shutil.copy(APP / f"{name}.js", made)
    (made / "index.html").write_text(
        '<!doctype html><meta charset="utf-8"><link rel="icon" href="data:,"><title>k</title>'
    )
    return made


@pytest.fixture(scope="module")
def served_at(folder):
    with served(folder) as address, browser() as opened:
        yield opened, address


def page_in(served_at, **context):
    opened, address = served_at
    page = opened.new_context(**context).new_page()
    page.goto(address + "index.html")
    page.evaluate(
        "async (names) => { window.k = {}; for (const name of names) Object.assign(k, await import(`/${name}.js`)); }",
        list(MODULES),
    )
    return page


@pytest.fixture(scope="module")
def page(served_at):
    page = page_in(served_at)
    trouble = watch(page)
    yield page
    assert trouble == []


def some_text(chance, most=12):
    return "".join(chance.choice(SIGNS) for _ in range(chance.randrange(most)))


def some_record(chance):
    keys = ["schema", "id", "workOrder", "zoneName", "asset", "a", "Z", "b2"]
    entry = lambda: {key: some_text(chance) for key in chance.sample(keys, 4)}  # noqa: E731
    return {
        **{key: some_text(chance) for key in chance.sample(keys, 5)},
        "entries": [entry() for _ in range(chance.randrange(4))],
        "digest": "x",
    }


def test_canonical_json_and_digest_are_the_same(page):
    """3,000 records with quotes, U+2028, letters in two Unicode forms, signs beyond the basic plane."""
    chance = random.Random(21)
    records = [some_record(chance) for _ in range(3000)]
    theirs = page.evaluate("(records) => records.map((r) => [k.canonical(r), k.digestOf(r)])", records)
    assert theirs == [[canonical(r), digest_of(r)] for r in records]
    assert any(unicodedata.normalize("NFC", canonical(r)) == canonical(r) for r in records)
    for wrong in ("1", "1.5", "true", "null", "undefined", "NaN"):
        assert page.evaluate(
            f"() => {{ try {{ k.canonical({{a: {wrong}}}); return false; }} catch (e) {{ return e instanceof TypeError; }} }}"
        )


def test_sha256_is_that_of_the_standard(page):
    """2,000 lengths, every padding among them, against Python's hashlib; and FIPS 180-4's own example `abc`."""
    chance = random.Random(22)
    texts = ["x" * n if n % 3 else some_text(chance, 2)[:1] * n for n in range(2000)]
    theirs = page.evaluate("(texts) => texts.map((text) => k.sha256(text))", texts)
    assert theirs == [hashlib.sha256(text.encode()).hexdigest() for text in texts]
    assert (
        page.evaluate("() => k.sha256('abc')")
        == "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
    )


def some_number(chance):
    return f"{chance.choice(['', '-'])}{chance.randrange(1, 10 ** chance.randrange(1, 7))}{chance.choice(['', '.' + str(chance.randrange(1, 10**4)).zfill(chance.randrange(1, 7))])}"


def at_the_edge(chance, low, high, by):
    """A reading at a limit, or a limit drawn in or out by the uncertainty, or a digit beside one of these."""
    limit = Decimal(chance.choice([each for each in (low, high) if each]))
    value = (
        limit
        + chance.choice([-1, 0, 1]) * Decimal(by or "0")
        + chance.choice([0, 0, 1, -1]) * Decimal("0.000001")
    )
    text = format(value, "f")
    return text if value != 0 else "0"


def test_verdicts_are_the_same(page):
    """10,000 cases, half of them with the reading exactly at a limit or at a limit ± U, or a millionth beside it."""
    chance = random.Random(23)
    cases = []
    for n in range(10_000):
        low, high = (some_number(chance) if chance.random() < 0.8 else "" for _ in "ab")
        if low and high and Decimal(low) > Decimal(high):
            low, high = high, low
        by = some_number(chance).lstrip("-") if chance.random() < 0.8 else ""
        value = at_the_edge(chance, low, high, by) if n % 2 and (low or high) else some_number(chance)
        cases.append([value, by, low, high, chance.random() < 0.8, chance.random() < 0.8])
    theirs = page.evaluate("(cases) => cases.map((c) => k.verdict(...c))", cases)
    exact = lambda text: Fraction(text) if text else None  # noqa: E731
    ours = [
        judge(Fraction(v), exact(by), exact(low), exact(high), li, hi) for v, by, low, high, li, hi in cases
    ]
    assert theirs == ours
    assert {word: ours.count(word) > 300 for word in set(ours)} == dict.fromkeys(
        ("pass", "too close to call", "fail", "not judged"), True
    )


def test_what_a_tool_may_be_off_is_the_same(page):
    chance = random.Random(24)
    cases = [
        [
            some_number(chance),
            chance.choice(["", "0.005", "0.0000000001", "0.333333333334", "1"]),
            chance.choice(["", "", "0.02"]),
        ]
        for _ in range(3000)
    ]
    theirs = page.evaluate("(cases) => cases.map((c) => k.uncertaintyAt(...c))", cases)
    assert theirs == [uncertainty_at(*case) for case in cases]


def test_what_is_typed_becomes_a_number_or_nothing(page):
    """A point pressed alone is no reading of 0."""
    chance = random.Random(25)
    typed = [
        "8,31",
        "8.31",
        "-0",
        "-0,00",
        ".5",
        "5.",
        "007",
        "-007.50",
        "+3",
        "\u22122,5",
        "",
        "-",
        ".",
        "1e5",
        "1.2.3",
        "8,3,1",
        "NaN",
        "Infinity",
        " 7 ",
        "٨",
        "0x10",
    ]
    typed += [
        "".join(chance.choice("0123456789.,-+ ") for _ in range(chance.randrange(8))) for _ in range(5000)
    ]
    theirs = page.evaluate("(typed) => typed.map((text) => k.asNumber(text))", typed)
    assert theirs[:12] == ["8.31", "8.31", "0", "0.00", "0.5", "5", "7", "-7.50", "3", "-2.5", "", ""]
    assert theirs[12:23] == ["", "", "", "", "", "", "7", "", "", "", ""]
    for text, number in zip(typed, theirs, strict=True):
        if number:
            assert re.fullmatch(NUMBER, number), (text, number)
            assert Decimal(number) == Decimal(text.strip().replace(",", ".").replace("\u2212", "-"))
    assert sum(bool(n) for n in theirs) > 800


ZONES = [
    "Europe/Berlin",
    "Asia/Kolkata",
    "America/St_Johns",
    "Australia/Lord_Howe",
    "Pacific/Chatham",
    "Asia/Kathmandu",
    "America/New_York",
    "UTC",
]


@pytest.mark.parametrize("zone", ZONES)
def test_local_time_has_the_offset_of_the_place(served_at, zone):
    """Half and quarter hours, and the hours at which summer time begins and ends; by Python's zone database."""
    chance = random.Random(zone)
    seconds = [chance.randrange(1_600_000_000, 2_000_000_000) for _ in range(400)]
    seconds += [
        int(datetime(2026, month, day, hour, 30, tzinfo=UTC).timestamp())
        for month, day in ((3, 29), (10, 25), (4, 4), (10, 3), (3, 8), (11, 1))
        for hour in range(24)
    ]
    page = page_in(served_at, timezone_id=zone)
    theirs = page.evaluate("(seconds) => seconds.map((s) => k.localTime(new Date(s * 1000)))", seconds)
    assert [datetime.fromisoformat(text).timestamp() for text in theirs] == seconds
    assert theirs == [datetime.fromtimestamp(s, ZoneInfo(zone)).isoformat() for s in seconds]
    assert page.evaluate("() => k.zoneName()")
    page.context.close()


def test_identifiers_are_random_and_of_version_4(page):
    made = page.evaluate("() => Array.from({length: 2000}, () => k.uuid())")
    assert len(set(made)) == 2000
    assert all(
        re.fullmatch(r"[0-9a-f]{8}-[0-9a-f]{4}-4[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}", each)
        for each in made
    )


def test_a_record_made_there_is_taken_here(page):
    data = frame.run()
    head = {
        key: data[key]
        for key in (
            "id",
            "kind",
            "document",
            "revision",
            "hash",
            "equipment",
            "asset",
            "serial",
            "workOrder",
            "worker",
            "started",
            "zoneName",
        )
    }
    made = page.evaluate(
        "([head, entries]) => k.recordOf({...head, plan: {}, page: 'x'}, entries, '')",
        [head, data["entries"]],
    )
    assert made == data
    frame.record(made)
    half = page.evaluate("([head, entries]) => k.recordOf(head, entries, '')", [head, data["entries"][:2]])
    assert frame.record(half).exit == "" and frame.record(half).finished == ""


def test_tables_are_the_same_bytes(page):
    """Commas, quotes, line ends, formulas; -0.30 stays a number in both."""
    chance = random.Random(26)
    records = []
    for n in range(300):
        data = frame.run(
            id=frame.uuid_of(n),
            asset=chance.choice(["=1+1", "@x", "-3", "+4", "007", 'a"b', "a,b", "1e5", "ä"]),
        )
        for entry in data["entries"]:
            if entry["kind"] == "reading":
                entry |= {
                    "value": chance.choice(["-0.30", "7.90", "0"]),
                    "name": chance.choice(["=cmd|' /C calc'!A0", "lever, height", "x\u2028y"]),
                }
        records.append(frame.sealed(data))
    theirs = page.evaluate("(records) => Array.from(new TextEncoder().encode(k.csvOf(records)))", records)
    ours = table_of(map(frame.record, records))
    assert bytes(theirs) == ours
    assert b",-0.30," in ours and b"'-0.30" not in ours and b"'=1+1" in ours


def test_a_record_in_a_code_comes_back(page):
    texts = [canonical(frame.run(id=frame.uuid_of(n), upto=2 + n % 6)) for n in range(60)] + [
        canonical(frame.remark("naïve Ω 😀"))
    ]
    codes = page.evaluate("(texts) => Promise.all(texts.map((text) => k.packedRecord(text)))", texts)
    assert all(codes)
    assert [code.unpacked(each) for each in codes] == texts
    assert all(len(each) <= code.MOST and set(each) <= set(code.ALPHABET) for each in codes)
    chance = random.Random(27)
    long = "".join(chance.choice("0123456789abcdef") for _ in range(9000))
    assert page.evaluate("(text) => k.packedRecord(text)", long) == ""


def test_base_45_is_that_of_the_rfc(page):
    """RFC 9285, 4.3: `AB` is BB8, `Hello!!` is %69 VD92EX0, `base-45` is UJCLQE7W581."""
    for text, made in (("AB", "BB8"), ("Hello!!", "%69 VD92EX0"), ("base-45", "UJCLQE7W581")):
        assert code.base45(text.encode()) == made
        assert page.evaluate("(text) => k.base45(new TextEncoder().encode(text))", text) == made
        assert code.from_base45(made) == text.encode()


def test_a_receipt_is_read_back(page):
    records = [frame.run(id=frame.uuid_of(n), asset=str(n)) for n in range(20)]
    given = receipt.receipt_for(map(frame.record, records[:15]), datetime(2026, 11, 28, 12, tzinfo=UTC))
    file, short = canonical(plain(given)), receipt.short(given)
    ask = "([text, records]) => { const r = k.readReceipt(text); return r && records.map((each) => k.receiptCovers(r, each)); }"
    for text in (file, short, short.lower(), short.removeprefix("KRR1:").replace("-", "").replace(" ", "\n")):
        assert page.evaluate(ask, [text, records]) == [True] * 15 + [False] * 5
    grown = {**records[0], "digest": "0" * 64}
    assert page.evaluate(ask, [file, [grown]]) == page.evaluate(ask, [short, [grown]]) == [False]
    for damaged in (
        "",
        "hello",
        file.replace('"records":[{', '"records":[{"x":"y",'),
        file[:-9],
        "7F3A-91C",
        "{}",
    ):
        assert page.evaluate(ask, [damaged, records]) is None


def test_answers_close_and_are_doubted_alike(page):
    """3,000 steps of one or two readings at and beside their limits, with answers of every kind."""
    chance = random.Random(27)
    cases = []
    for _ in range(3000):
        limits = [("a", "1", "2.5"), ("b", "", "0.3")][: chance.choice([1, 1, 2])]
        taken = {
            of: {
                "value": at_the_edge(chance, low, high, ""),
                "verdict": chance.choice(["pass", "fail", "too close to call", "not judged"]),
                "phase": chance.choice(["as found", "as left", ""]),
            }
            for of, low, high in limits
            if chance.random() < 0.9
        }
        said = [[of, low, high, chance.random() < 0.5, chance.random() < 0.5] for of, low, high in limits]
        answers = [
            {
                "notZero": chance.random() < 0.15,
                "notOk": chance.random() < 0.25,
                "fits": chance.choice([None, {"inside": chance.random() < 0.5, "limits": said}]),
            }
            for _ in range(chance.choice([2, 2, 3]))
        ]
        cases.append([answers, taken])
    theirs = page.evaluate(
        "(cases) => cases.map(([answers, taken]) => [k.closed(answers, taken), answers.map((_, n) => [k.agrees(answers[n].fits, taken), k.refused(answers, n, taken), k.doubted(answers, n, taken)])])",
        cases,
    )
    ours = [
        [
            answerfit.closed(answers, taken),
            [
                [
                    answerfit.agrees(answer["fits"], taken),
                    answerfit.refused(answers, n, taken),
                    answerfit.doubted(answers, n, taken),
                ]
                for n, answer in enumerate(answers)
            ],
        ]
        for answers, taken in cases
    ]
    assert theirs == ours
    assert {len(shut) for shut, _ in ours} >= {0, 1} and any(each[2] for _, all_ in ours for each in all_)
    assert all(len(shut) < len(answers) for (shut, _), (answers, _) in zip(ours, cases, strict=True))
