"""What marks, fields and words of the form say, in a few words each."""

from __future__ import annotations

MARKS = {
    "isolates": "a source is cut off and held",
    "releases": "stored energy is let out",
    "proves": "zero energy is proved",
    "restores": "a source is put back",
    "runs-on": "the step needs the source on",
    "loads": "the work charges a store or winds a spring",
    "wait": "a time, such as 5 min",
    "removes": "a guard comes off",
    "refits": "a guard goes on",
    "all-clear": "people and tools are clear",
    "tests": "a function is tested",
    "torque": "a tightening torque with its tolerance",
    "set": "a setting with its tolerance",
    "read": "a reading with its limit",
    "tool": "a tool of the kit list",
    "part": "a part of the kit list",
    "item": "a numbered item of a figure",
}
"""What each mark says, in a few words."""
FIELDS = {
    "id": "a name of its own to link to",
    "hands": "where the hands are",
    "zone": "what can be reached here",
    "clear-of": "a source that can't be reached, and why",
    "origin": "where the values come from",
    "switch": "the switch that is set here",
    "fastener": "the screw that is tightened here, such as M8 8.8",
    "friction": "its friction, such as K 0.15 or lubricated",
    "do": "do a shared stage here",
    "hold": "what a second person looks at before work goes on",
    "go-to": "the step that follows",
    "exit": "the procedure ends here",
    "alt": "what the picture shows, in words",
    "looked": "what you looked for in a photograph, such as no people, no names",
    "crop": "all that is shown of the picture: x,y,width,height",
    "cover": "a part that is painted over: x,y,width,height",
    "detail": "a part shown larger: x,y,width,height upper right, 3 times",
    "motion": "an arrow and its words: turn 412,310 left 90°",
    "scale": "a known length: 50 mm = 412,310 612,310",
    "after": "a second picture, taken after the work",
}
HANDS = {
    "away": "look and listen",
    "controls": "outside, plug and user controls",
    "open": "undoing guards",
    "probe": "a rated instrument or a release tool",
    "inside": "hands inside the guards",
    "live": "deliberate work with a source on",
}
BRACES = {
    "shared": "the stage is done where `:do:` asks for it",
    "not-zero": "a proof failed on this answer",
    "not-ok": "a test or reading failed on this answer",
}
ORIGINS = ("maker's manual p. ", "measured", "shop rule")
