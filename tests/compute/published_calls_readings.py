"""How the published values about judging readings are worked out."""

from kilter.compute.decision import chance_of_conformity

CALLS = {
    "decision.chance_of_conformity": lambda g: chance_of_conformity(
        g["reading"], g["u"], g.get("low"), g.get("high")
    )
}
