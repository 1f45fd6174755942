"""Word lists and phrases of the writing and panel rules.

From common workshop usage; no published list is copied. `ASD-STE100` is followed in its rules, not its dictionary.
"""

from __future__ import annotations

import re


def _set(words: str) -> frozenset[str]:
    return frozenset(words.split())


ABBREVIATIONS = _set(
    """
    e.g i.e etc no nos fig figs approx max min vs p pp ca cf resp incl excl dr st mr mrs ms vol rev ref eq
    sec
    """
)
"""Words before a point that ends no sentence, without that point."""

VERBS = _set(
    """
    add adjust align allow apply arrange ask assemble attach avoid back balance bend bleed block blow bolt
    break bring brush calibrate call carry catch centre change charge check choose clamp clean clear clip
    close coat collect compare connect continue cool copy count cover crimp cut deburr decide depressurise
    describe detach dip disable discard disconnect discharge dispose dock drain draw dress drill drive drop
    dry earth ease empty enable engage ensure enter evacuate examine exchange extend fasten feed feel file
    fill find finish fit fix flush fold follow force free get give go grease grind grip ground guide hand
    hang have heat hold identify inflate inform insert inspect install isolate jack join keep label latch
    lay lead leave let level lever lift light line listen load locate lock log look loosen lower lubricate
    make mark match measure melt mind mount move name note notice observe oil open operate order pack
    padlock paint park pass peel pick pin place plan plug point polish position pour power prepare press
    pressurise prevent prise prop protect prove pull pump punch push put raise reach read ream reassemble
    reconnect record reduce refer refill refit release relieve remove renew repair repeat replace replenish
    report request reset rest restore return reverse ring rinse rock roll rotate route rub run save scrape
    screw seal secure see select send separate service set shake shift short shut sign sit slacken slide
    smooth snap soak solder sort space spin splice split spray spread spring squeeze stand start state stay
    step stick stop store strap strip suck supply support suspend swap swing switch tag take tap tape tell
    test thread throw tie tighten tilt tip top touch trace track transfer transport treat trim trip try tuck
    turn twist undo unclip unclamp uncover unfold unhook unlatch unlock unpack unplug unroll unscrew
    unsolder untie use vacuum vent verify wait walk warm warn wash watch wear weigh wedge weld wheel wind
    wipe wire withdraw work wrap write zero
    """
)
"""Verbs that an instruction begins with, in their base form."""

OPENERS = _set(
    """
    always never now then next first finally again also please do don't not carefully slowly gently quickly
    lightly firmly only just both fully once
    """
)
"""Words that may stand before the verb of an instruction."""

CONDITIONS = _set(
    """
    if when before after until while once unless as with without for to from in on at where during by
    """
)
"""Words that open a clause or phrase in front of an instruction."""

NOT_VERBS = _set(
    """
    a an the this that these those each every all any both some no none one two three four it its they their
    he she his her we our you your i there here what which who whose how why so but or and because although
    however is are was were be been can could may might must shall should will would has had does did not
    nothing nobody everything everybody anything anybody someone another other such more most less few many
    much
    """
)
"""Words that no instruction begins with."""

MATTERS = _set(
    """
    oil power heat light earth ground air load spring pump switch press screw lead drive wheel block charge
    discharge drop file wire vacuum coat brush stand latch lock ring line
    """
)
"""Verbs of the list that often begin a sentence as the name of a thing: "oil drips"."""

FOLLOWERS = _set(
    """
    the a an this that these those each every all any both it them its their your one two three four five
    six no another either neither up down off out on in into onto back away
    """
)
"""Words after which an unknown first word was probably a verb."""

MODALS = _set(
    """
    will can could may might would
    """
)

HARM = _set(
    """
    kill kills injure injures injury injuries hurt hurts harm harms burn burns scald scalds crush crushes
    cut cuts bruise bruises break breaks blind blinds shock shocks electrocute electrocutes amputate
    amputates trap traps pinch pinches poison poisons infect infects death die dies suffocate suffocates
    choke chokes fall falls drop drops explode explodes catch catches tear tears sever severs pierce pierces
    strain strains sprain sprains blister blisters bite bites numb numbs maim maims
    cost costs deafen deafens strike strikes hit hits throw throws stab stabs irritate irritates
    """
)
"""Words that say what happens to people."""

DAMAGE = _set(
    """
    damage damages spoil spoils ruin ruins strip strips jam jams destroy destroys deform deforms crack
    cracks scratch scratches leak leaks fail fails wear wears bend bends corrode corrodes stain stains lose
    loses overheat overheats void voids blow blows snap snaps seize seizes
    """
)
"""Words that say what happens to things."""

INJURY = HARM - _set(
    """
    break breaks cut cuts fall falls drop drops catch catches tear tears cost costs strike strikes hit hits
    throw throws shock shocks trap traps explode explodes
    """
) | _set("hand hands finger fingers eye eyes skin bone bones burns")
"""Words that can only be about people."""

SIMULTANEOUS = re.compile(
    r"(?i)\b(while|at the same time|simultaneously|together|at once|in one go|other hand|as you|with one hand)\b"
)
REASON = re.compile(
    r"(?i)\b(because|so that|so the|so it|to let|to leave|for now|only until|since|or else|otherwise)\b"
)

VAGUE_TORQUE = re.compile(
    r"(?i)\b(snug(?:ly)?|(?:hand|finger)[- ]?tight(?:en|ened)?|until (?:it is |they are )?(?:tight|firm|snug)\b"
    r"|tighten(?:ed)? (?:[\w\ufffc'’-]+ ){0,6}?(?:firmly|securely|well|properly|fully|hard|thoroughly|lightly)\b"
    r"|(?:firmly|securely|fully|lightly) tighten|(?:good|nice) and tight|not too tight|nip (?:it |them )?up)"
)
"""Tightening without a value."""

ABOUT = re.compile(
    r"(?i)(?:\b(?:about|around|approximately|approx\.?|roughly|circa|some|nearly)\s+|~\s*)(?=[0-9\ufffc])"
)
"""A number that is not meant."""

VAGUE_AMOUNT = re.compile(
    r"(?i)\b(a little|a bit|slightly|somewhat|a small amount|a few|sufficient(?:ly)?|adequate(?:ly)?|reasonabl[ey]"
    r"|approximately|roughly|and so on|etc\b)"
)
"""How much, left to the reader."""

VAGUE_CASE = re.compile(
    r"(?i)\b((?:as|if|where|when) (?:necessary|required|needed|appropriate|applicable|possible))\b"
)
"""Whether at all, left to the reader."""

_PERSON = r"(?:you|the (?:technician|operator|user|engineer|mechanic|worker|fitter)|one)"
_DONE = (
    r"(?:removed|disconnected|connected|undone|unscrewed|loosened|tightened|fitted|refitted|replaced|cleaned|checked"
    r"|measured|adjusted|inserted|lifted|pulled|pushed|drained|unplugged|installed|turned|opened|closed|taken|put)"
)
PASSIVE = re.compile(
    rf"(?i)(?:\b(?:should|must|shall|has to|have to|needs? to|is to|are to)\s+(?:now |then |first )?be\s+\w+(?:ed|en|ne|ut|t)\b"
    rf"|\b{_PERSON}\s+(?:should|must|shall|has to|have to|needs? to|can|will)\b"
    rf"|^(?:then |now |next )?(?:the|all|both|each|any)\s+(?:[\w\ufffc-]+\s+){{1,5}}?(?:is|are)\s+(?:now |then )?{_DONE}\b)"
)
"""A step that tells what is done, or what somebody should do, instead of telling the reader to do it."""

CONDITION = re.compile(r"(?i),?\s+\b(?<!\bas )(?<!\beven )(?<!\bonly )(if|when|unless|in case)\b")
ASKS = re.compile(
    r"(?i)\b(see|check|look|feel|tell|find out|ask|note|notice|watch|listen|test|write down|decide)\b"
)
"""Verbs after which "if" means whether."""

TAKING_OFF = _set("detach lift open prise pull remove slide swing take unclip undo unhook unlatch unscrew")
FITTING = _set("clip close fit hang push put refit replace screw shut slide")
"""What is done to a guard."""

_MACHINE = r"(?:it|machine|unit|device|equipment|power|mains|supply|main switch|isolator|motor|drive)"
_FEED = r"(?:plug|pack|battery|batteries|mains plug|mains lead|battery pack|supply|mains|power)"
TURNING_ON = re.compile(
    rf"(?i)(?:switch|turn|power)\s+(?:on\s+|up\s+)(?:the\s+|its\s+)?{_MACHINE}\b"
    rf"|(?:switch|turn|power)\s+(?:the\s+|its\s+)?{_MACHINE}\s+(?:back\s+)?(?:on|up)\b"
    rf"|plug\s+(?:the\s+)?{_MACHINE}\s+(?:back\s+)?in\b|plug\s+in\s+(?:the\s+)?{_MACHINE}\b"
    rf"|(?:push|put|slide|plug|hang|fit)\s+(?:the\s+|its\s+)?{_FEED}\s+(?:back\s+)?(?:in|on)\b(?!\s+(?:its|the|an?|your)\b)"
    rf"|(?:re)?connect\s+(?:the\s+|its\s+)?{_FEED}\b"
)
"""Putting energy on, with what it is put on: a tester or a torch is switched on too, and is no matter."""
