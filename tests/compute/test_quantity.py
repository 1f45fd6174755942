"""Values as people write them: what each form means, and what is refused."""

from __future__ import annotations

import unicodedata
from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kilter.compute.quantity import Quantity, QuantityError, parse_quantity
from kilter.compute.reading import parse_reading
from kilter.compute.units import NEVER_NEGATIVE, UNITS, Unit


def limits(text: str) -> tuple[str, str | None, str | None, str]:
    """Form, low, high, unit."""
    q = parse_quantity(text)
    return q.form, q.low and str(q.low), q.high and str(q.high), str(q.unit)


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("5 min", ("plain", "5", "5", "min")),
        ("0.6 ± 0.1 N·m", ("plus-minus", "0.5", "0.7", "N·m")),
        ("0.6 +/- 0.1 Nm", ("plus-minus", "0.5", "0.7", "N·m")),
        ("0.6±0.1Nm", ("plus-minus", "0.5", "0.7", "N·m")),
        ("(22 ± 2) N·m", ("plus-minus", "20", "24", "N·m")),
        ("22 N·m ± 2 N·m", ("plus-minus", "20", "24", "N·m")),
        ("22 N·m ± 10 %", ("percent", "19.8", "24.2", "N·m")),
        ("−80 kPa ± 5 %", ("percent", "-84", "-76", "kPa")),
        ("70 ± 5 %", ("plus-minus", "65", "75", "%")),
        ("37 °C ± 0.5 K", ("plus-minus", "36.5", "37.5", "°C")),
        ("4 +0.5/−0.2 mm", ("uneven", "3.8", "4.5", "mm")),
        ("4 +0.5/-0 mm", ("uneven", "4", "4.5", "mm")),
        ("4 −0.2 +0.5 mm", ("uneven", "3.8", "4.5", "mm")),
        ("4 mm (+0.5/−0.2)", ("uneven", "3.8", "4.5", "mm")),
        ("25 −0.02/−0.04 mm", ("uneven", "24.96", "24.98", "mm")),
        ("5–7 N·m", ("range", "5", "7", "N·m")),
        ("5-7 N·m", ("range", "5", "7", "N·m")),
        ("5 - 7 ft-lb", ("range", "5", "7", "lbf·ft")),
        ("5 to 7 N·m", ("range", "5", "7", "N·m")),
        ("5 °C to 7 °C", ("range", "5", "7", "°C")),
        ("−80 ± 5 kPa", ("plus-minus", "-85", "-75", "kPa")),
        ("−75 to −85 kPa", ("range", "-85", "-75", "kPa")),
        ("−85–−75 kPa", ("range", "-85", "-75", "kPa")),
        ("-85--75 kPa", ("range", "-85", "-75", "kPa")),
        ("0 to −85 kPa", ("range", "-85", "0", "kPa")),
        ("−5 to 5 mm", ("range", "-5", "5", "mm")),
        ("≥ 24.0 V", ("at-least", "24.0", None, "V")),
        (">= 24.0 V", ("at-least", "24.0", None, "V")),
        ("at least 3 turns", ("at-least", "3", None, "turns")),
        ("> 24 V", ("above", "24", None, "V")),
        ("≤ 0.3 Ω", ("at-most", None, "0.3", "Ω")),
        ("<=0.3 ohm", ("at-most", None, "0.3", "Ω")),
        ("< 5 mA", ("below", None, "5", "mA")),
        ("12\u202f000 Pa", ("plain", "12000", "12000", "Pa")),
        ("24 V DC", ("plain", "24", "24", "V d.c.")),
        ("0–50 cmH2O", ("range", "0", "50", "cmH2O")),
        ("  5 min  ", ("plain", "5", "5", "min")),
    ],
)
def test_forms(text: str, expected: tuple[str, str | None, str | None, str]) -> None:
    form, low, high, unit = limits(text)
    assert (form, unit) == (expected[0], expected[3])
    for got, wanted in ((low, expected[1]), (high, expected[2])):
        assert (got is None) == (wanted is None)
        assert got is None or Decimal(got) == Decimal(wanted or "")


def test_numbers_stay_as_written() -> None:
    assert parse_quantity("24.00 ± 0.10 V").numbers == ("24.00", "0.10")
    assert str(parse_quantity("≥ 24.0 V").low) == "24.0"


def test_base_values_are_exact() -> None:
    """62 lbf·in = 7.004... N·m: NIST SP 811 factors, computed."""
    q = parse_quantity("62 ± 2 lbf·in")
    assert q.base_low == 60 * Fraction("0.1129848290276167")
    assert q.base_nominal == 62 * Fraction("0.1129848290276167")
    assert parse_quantity("98.6 °F").base_nominal == Fraction("310.15")


@pytest.mark.parametrize(
    ("one", "two", "inside"),
    [
        ("5–7 mm", "4–8 mm", True),
        ("4–8 mm", "5–7 mm", False),
        ("≥ 10 mm", "≥ 1 cm", True),
        ("5–7 mm", "≥ 5 mm", True),
        ("≥ 5 mm", "5–7 mm", False),
        ("5–7 mm", "5–7 N·m", False),
    ],
)
def test_within(one: str, two: str, inside: bool) -> None:
    assert parse_quantity(one).within(parse_quantity(two)) is inside


def test_limits_are_compared_across_units() -> None:
    assert parse_quantity("10 mm ± 1 mm").same_limits(parse_quantity("0.9–1.1 cm"))
    assert not parse_quantity("9–11 mm").same_limits(parse_quantity("9–12 mm"))


REFUSED = [
    # text, about, words of the message, what the place shows
    ("1,5 mm", "value", "comma", "1,5"),
    ("5 ± 0,1 mm", "value", "comma", "0,1"),
    ("10,000 Pa", "value", "comma", "0,0"),
    ("7–5 N·m", "range", "wrong way round", "7–5"),
    ("5 to −5 mm", "range", "wrong way round", "5 to −5"),
    ("−85 to −90.5 to 3 V", "value", "no value", None),
    ("5–5 mm", "range", "same", "5"),
    ("5 ± -1 N·m", "value", "below zero", "-1"),
    ("5 ± 0 mm", "value", "nothing", "0"),
    ("0 V ± 5 %", "value", "nothing", "5"),
    ("4 +0.5/0.2 mm", "value", "without a sign", "0.2"),
    ("4 +0.5 mm", "value", "one way only", None),
    ("4 −0.2 mm", "value", "both can be read", " −"),
    ("5 foo", "unit", "`foo` is not known", "foo"),
    ("5 mpa", "unit", "not known", "mpa"),
    ("5", "unit", "no unit", "5"),
    ("5 ± 1", "unit", "no unit", "5 ± 1"),
    ("5 mm ± 0.1 in", "unit", "two units", "in"),
    ("22 ± 10 % N·m", "unit", "not known", "% N·m"),
    ("37 °C ± 5 %", "value", "percent", "5"),
    ("NaN V", "value", "no number", "NaN"),
    ("inf V", "value", "no number", "inf"),
    ("∞ V", "value", "no number", "∞"),
    ("1e400 V", "value", "power of ten", "1e400"),
    ("1E3 V", "value", "power of ten", "1E3"),
    ("2×10³ V", "value", "power of ten", None),
    ("~ 5 mm", "value", "no limit", "~"),
    ("about 5 mm", "value", "no limit", "about"),
    ("approx. 5 mm", "value", "no limit", None),
    (".5 mm", "value", "without its zero", ".5"),
    ("5. mm", "value", "without a digit", "5."),
    ("1.2.3 mm", "value", "two points", "1.2.3"),
    ("½ turn", "value", "fraction", "½"),
    ("1/2 turn", "value", "fraction", "1/2"),
    ("3 8 mm", "value", "two numbers", "3 8"),
    ("snug", "value", "no number", "snug"),
    ("", "value", "no value", ""),
    ("lid: 5 mm", "value", "name", ":"),
    ("-5 min", "value", "below zero", "-5"),
    ("−300 °C", "value", "absolute zero", "−300"),
    ("≥ 5 ≤ 7 V", "value", "no value", None),
    ("5 \u041c\u03a9", "unit", "U+041C cyrillic", "\u041c"),  # Cyrillic EM
    ("5 \u00baC", "unit", "U+00BA masculine ordinal", "\u00ba"),
    ("\u0663 mm", "value", "U+0663 arabic-indic digit three", "\u0663"),
    ("\uff15 mm", "value", "U+FF15 fullwidth digit five", "\uff15"),
    ("5 \u339c", "unit", "U+339C square mm", "\u339c"),
    ("1234567890123 mm", "value", "13 digits", "1234567890123"),
    ("9" * 10_000 + " mm", "value", "10,003 characters", None),
]


@pytest.mark.parametrize(
    ("text", "about", "message", "shown"), REFUSED, ids=[r[0][:24] or "empty" for r in REFUSED]
)
def test_refused(text: str, about: str, message: str, shown: str | None) -> None:
    with pytest.raises(QuantityError) as caught:
        parse_quantity(text)
    refused = caught.value
    assert refused.about == about
    assert message in refused.message
    assert refused.help
    assert len(refused.message) < 80
    if shown is not None:
        assert text[refused.start : refused.end] == shown


def test_offset_counts_blanks_in_front() -> None:
    with pytest.raises(QuantityError) as caught:
        parse_quantity("   5 foo")
    assert (caught.value.start, caught.value.end) == (5, 8)


def outcome(text: str) -> Quantity | QuantityError:
    try:
        return parse_quantity(text)
    except QuantityError as refused:
        return refused


@given(st.text(max_size=60))
def test_any_text_is_a_value_or_refused(text: str) -> None:
    got = outcome(text)
    if isinstance(got, QuantityError):
        assert got.message
        assert got.help
        assert 0 <= got.start < got.end <= max(len(text), 1) + 1


@given(st.text(alphabet="0123456789 .,±+-−–/()%<>≥≤NmVΩ·to", max_size=200))
def test_signs_in_any_order_are_a_value_or_refused(text: str) -> None:
    got = outcome(text)
    if isinstance(got, Quantity):
        assert got.low is not None or got.high is not None
        assert got.low is None or got.high is None or got.low <= got.high


positive = st.decimals(min_value=Decimal("0.001"), max_value=Decimal("99999"), places=3)
units = st.sampled_from([u for u in UNITS.values() if u.dimension != "temperature"])


@given(positive, positive, units)
def test_tolerance_written_and_read_back(nominal: Decimal, by: Decimal, unit: Unit) -> None:
    text = f"{nominal} ± {by} {unit}"
    if by > nominal and unit.dimension in NEVER_NEGATIVE:
        with pytest.raises(QuantityError, match="below zero"):
            parse_quantity(text)
        return
    q = parse_quantity(text)
    assert (q.nominal, q.low, q.high) == (nominal, nominal - by, nominal + by)
    assert q.unit is unit
    assert q.has_tolerance


@given(positive, positive, units, st.sampled_from([" to ", "–", "-", " – "]))
def test_range_written_and_read_back(one: Decimal, two: Decimal, unit: object, sign: str) -> None:
    low, high = min(one, two), max(one, two)
    if low == high:
        return
    q = parse_quantity(f"{low}{sign}{high} {unit}")
    assert (q.low, q.high, q.nominal) == (low, high, None)
    with pytest.raises(QuantityError, match="wrong way round"):
        parse_quantity(f"{high}{sign}{low} {unit}")


@given(positive, units, st.sampled_from(["NFC", "NFD", "NFKC"]))
def test_unicode_form_does_not_matter(value: Decimal, unit: object, form: str) -> None:
    text = f"{value} {unit}"
    normal = unicodedata.normalize(form, text)  # type: ignore[arg-type]
    assert parse_quantity(normal).unit is unit or "²" in text


@pytest.mark.parametrize(
    ("text", "phase", "name", "limit"),
    [
        ("as found, lid travel: 7.6–8.2 mm", "as found", "lid travel", "7.6–8.2 mm"),
        ("As-left, lid travel: 7.6–8.2 mm", "as left", "lid travel", "7.6–8.2 mm"),
        ("as found: ≤ 3 mm", "as found", "", "≤ 3 mm"),
        ("pole, door shut: ≤ 0.3 Ω", None, "pole, door shut", "≤ 0.3 Ω"),
        ("as left, pole, door shut: ≤ 0.3 Ω", "as left", "pole, door shut", "≤ 0.3 Ω"),
        ("J2 to J3: ≤ 1 V", None, "J2 to J3", "≤ 1 V"),
        ("≤ 1 V", None, "", "≤ 1 V"),
    ],
)
def test_readings(text: str, phase: str | None, name: str, limit: str) -> None:
    reading = parse_reading(text)
    assert (reading.phase, reading.name, reading.quantity.text.strip()) == (phase, name, limit)


def test_a_reading_refused_points_into_the_whole_text() -> None:
    text = "as found, lid: 5 foo"
    with pytest.raises(QuantityError) as caught:
        parse_reading(text)
    assert text[caught.value.start : caught.value.end] == "foo"
