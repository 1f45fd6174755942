"""How the published limits of electrical safety are looked up."""

from kilter.compute.electrical import choose, shipped


def _limit(given):
    facts = {k: v for k, v in given.items() if k not in ("measure", "standard")}
    return choose(shipped(), given["measure"], facts, given["standard"])[0].limit.text


CALLS = {"electrical.limit": _limit}
