"""The questions of the profile form, in the order in which they are asked."""

from __future__ import annotations

from typing import Any

Field = dict[str, Any]


def _field(key: str, question: str, type: str = "text", help: str = "", **more: Any) -> Field:
    return {"key": key, "question": question, "type": type, "help": help, **more}


def _choice(key: str, question: str, options: dict[str, str], help: str = "", **more: Any) -> Field:
    pairs = [{"value": value, "words": words} for value, words in options.items()]
    return _field(key, question, "choice", help, options=pairs, **more)


WHERE = {"outside": "from outside, every cover on", "inside": "only inside the covers"}
_ITSELF, _STORED = {"cut": ["itself"]}, {"release": ["action", "bleed"]}

MACHINE = [
    _field("title", "What is the machine called?", help="What it is, maker, model.", limit=200),
    _field("id", "Which short name?", help="Lower-case letters, digits and hyphens, such as egret-2. Procedures name the machine by it."),
    _field("writers", "Who writes this?", "lines", "Initials, one a line."),
    _field("date", "On which date?", help="Such as 2026-11-03; may stay empty."),
    _field("about", "What is the machine, in two sentences?", "area", only_new=True),
]  # fmt: skip

KINDS = [
    {"kind": "mains", "title": "Mains", "help": "A plug, a fixed supply, a charger or dock."},
    {"kind": "battery", "title": "Battery", "help": "Packs, cells that keep a memory or an alarm alive, a spare in its holder."},
    {"kind": "capacitor", "title": "Capacitor", "help": "Motor drives, power supplies, lamps and lasers keep a charge after the power is off."},
    {"kind": "hydraulic", "title": "Hydraulic", "help": "Oil or water under pressure: columns, foot pumps, accumulators."},
    {"kind": "pneumatic", "title": "Pneumatic", "help": "Air or gas under pressure: cylinders, hoses, gas springs fed from a line."},
    {"kind": "vacuum", "title": "Vacuum", "help": "Suction lines and jars, also when the pump stands."},
    {"kind": "gravity", "title": "Gravity", "help": "Anything that can sink, drop or tip once something is undone."},
    {"kind": "spring", "title": "Spring", "help": "Wound, pressed or stretched springs, gas struts, counterweights on a cord."},
    {"kind": "heat", "title": "Heat", "help": "Plates, lamps, steam, hot water; also what is very cold."},
    {"kind": "motion", "title": "Motion", "help": "Fans, drums and wheels that run on after the power is off."},
    {"kind": "pressure", "title": "Pressure", "help": "Vessels, gas bottles, sealed chambers."},
    {"kind": "other", "title": "Anything else", "help": "Radiation, chemicals, light, magnetism."},
]  # fmt: skip

SOURCE = [
    _field("name", "What is this source called?", help="A short name that stands in the steps, such as boom or dock supply. No comma.", limit=80),
    _field("why", "What kind of energy is it?", kinds=["other"]),
    _choice("word", "How bad is it if somebody meets it?", {
        "danger": "danger: it kills or maims", "warning": "warning: it can kill or maim", "caution": "caution: it can hurt",
    }),
    _choice("cut", "How is it cut off?", {
        "itself": "by itself: a plug, switch, valve, pin or stand", "feed": "by cutting off what feeds it",
        "never": "not at all: it is only let out, like a spring",
    }),
    _field("isolate", "How exactly, and what holds it so?", help="Such as: Plug out of the wall, in a locked plug case.", when=_ITSELF),
    _choice("lockable", "Can it be locked, pinned or propped?", {"yes": "yes", "no": "no"}, when=_ITSELF),
    _field("fed_by", "What feeds it? It is dead once all of these are cut.", "sources", when={"cut": ["itself", "feed"]}),
    _field("charged_by", "What charges it? It stays live when these are cut.", "sources"),
    _choice("release", "Does it keep energy after it is cut off?", {
        "none": "no", "action": "yes, and somebody must let it out", "bleed": "yes, and it drains by itself in time",
    }),
    _field("bleed", "How long does that take?", help="Such as 5 min.", when={"release": ["bleed"]}, limit=40),
    _choice("release_from", "From where is it let out?", WHERE, when={"release": ["action"]}),
    _field("needs_releases", "Which others must be held before it is let out?", "sources", when=_STORED),
    _field("loaded_by", "Which work loads it?", "lines", "The words of that work, one a line, such as: wind the tension nut in.", when=_STORED),
    _field("prove", "How is it proved dead?", help="Instrument, place and limit, such as: Voltmeter at the motor plug, below 1 V."),
    _choice("prove_from", "From where is that measured?", WHERE),
    _choice("again", "Can it build up again by itself?", {"no": "no", "yes": "yes, at any time", "after": "yes, after a time"}),
    _field("again_after", "After which time?", help="Such as 10 min.", when={"again": ["after"]}, limit=40),
    _field("chemistry", "What kind of battery is it?", help="Such as lead-acid AGM, lead-acid gel or lithium-ion; may stay empty.", kinds=["battery"], limit=60),
    _field("capacity", "Which capacity is printed on it?", help="Such as 12 Ah; may stay empty.", kinds=["battery"], limit=40),
    _field("load", "What does the machine draw in a day?", "lines", "One part of the day a line, such as standby: 0.08 A, 22 h. May stay empty; it says when an uncharged machine is flat.", kinds=["battery"]),
    _field("capacitance", "How large is it?", help="Such as 470 µF ± 20 %; may stay empty.", kinds=["capacitor"], limit=40),
    _field("resistance", "Which resistor drains it?", help="Such as 10 kΩ ± 5 %; may stay empty.", kinds=["capacitor"], limit=40),
    _field("voltage", "To which voltage is it charged at the most?", help="Such as 400 V; may stay empty.", kinds=["capacitor"], limit=40),
    _field("needs_restores", "Which others must be on again before it is given back?", "sources"),
    _field("origin", "Where does this come from?", help="Such as maker's manual p. 12, measured, shop rule; may stay empty."),
]  # fmt: skip

COVERS = [
    _choice("covers", "Does any cover come off?", {"yes": "yes", "no": "no"}),
    _field("guards", "Which covers?", "lines", "One a line, such as mast cover.", when={"covers": ["yes"]}),
]
TESTS = [
    _field(
        "tests",
        "What must be tested before it goes back?",
        "lines",
        "One a line, such as boom travel; may stay empty.",
    )
]

REPEATS = [
    {
        "key": "zones", "nav": "Places", "title": "Places where hands go", "one": "place", "add": "Add a place",
        "help": "A place says which sources can be met there. A step that names no place counts as able to meet them all. May stay empty.",
        "fields": [_field("name", "What is the place called?", limit=80), _field("reach", "Which sources can be reached there?", "sources")],
    },
    {
        "key": "switches", "nav": "Switches", "title": "Position switches that are set", "one": "switch", "add": "Add a switch",
        "help": "Figures of the data sheet, such as 8.8 ± 0.2 mm; leave out what it does not give. May stay empty.",
        "fields": [
            _field("name", "What is the switch called?", limit=80), _field("op", "Operating point"), _field("ot", "Overtravel"),
            _field("md", "Differential travel"), _field("rp", "Release point"), _field("fp", "Free position"),
            _field("ttp", "Total travel position"), _field("pt", "Pretravel"), _field("window", "Window of its own"),
            _field("use", "Share of the overtravel that is used"), _field("origin", "Where the figures come from"),
        ],
    },
]  # fmt: skip
for _key, _title, _one in (
    ("tools", "Tools with a range or calibration", "tool"),
    ("parts", "Parts with a number", "part"),
):
    REPEATS.append({
        "key": _key, "nav": _one.capitalize() + "s", "title": _title, "one": _one, "add": f"Add a {_one}", "help": "May stay empty.",
        "fields": [
            _field("name", f"What is the {_one} called?"), _field("range", "Range"), _field("accuracy", "Accuracy"),
            _field("calibration", "Calibrated every"), _field("stock_number", "Stock number"), _field("quantity", "How many"),
            _choice("new", "Is a new one needed each time?", {"": "no", "each time": "yes"}),
        ],
    })  # fmt: skip

SPEC = {
    "machine": MACHINE, "kinds": KINDS, "source": SOURCE, "covers": COVERS, "tests": TESTS, "repeats": REPEATS,
}  # fmt: skip
"""All of it, for the page's script."""
