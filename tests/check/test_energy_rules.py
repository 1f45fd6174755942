"""Every rule of the energy analysis has its page, with the severity that it is raised with."""

from kilter.check.flow import ABOUT, RULES
from kilter.check.rule import all_rules


def test_pages_and_rules_are_the_same() -> None:
    pages = {r.name: r.severity for r in all_rules().values() if r.family == "energy"}
    assert pages == RULES
    assert ABOUT.keys() == RULES.keys()


def test_each_page_names_what_it_serves() -> None:
    for rule in all_rules().values():
        if rule.family == "energy":
            assert "".join(ABOUT[rule.name].split()) in "".join(rule.page.split()), rule.name
