"""A technician's hand on the phone: goes through a document by what the screen offers, nothing else."""

from __future__ import annotations

import re
from typing import Any

PHONE = {
    "viewport": {"width": 360, "height": 740},
    "has_touch": True,
    "is_mobile": True,
    "device_scale_factor": 2,
}


class Hand:
    """Works through the document on the open page."""

    def __init__(self, page: Any) -> None:
        self.page = page

    def begin(self, asset: str = "B-0412", serial: str = "0413", worker: str = "TE") -> None:
        self.page.wait_for_selector("#run-offer button, form.run-screen", state="attached")
        if not self.page.locator("form.run-screen").count():
            self.page.wait_for_selector("#run-offer button")
            self.page.locator("#run-offer button").last.click()
        self.page.wait_for_selector(".run-screen form, form.run-screen")
        self.page.fill("[name=asset]", asset)
        self.page.fill("[name=serial]", serial)
        self.page.fill("[name=order]", "WO-7781")
        self.page.fill("[name=worker]", worker)
        for tick in self.page.locator(".run-tick input").all():
            tick.check()
        self.page.click("button[type=submit]")
        self.settle()

    def settle(self) -> None:
        """Until what was touched is written."""
        self.page.wait_for_function("globalThis.kilterRun !== undefined")
        self.page.evaluate("globalThis.kilterRun.busy")
        self.page.wait_for_timeout(30)

    def entries(self) -> list[dict[str, str]]:
        return self.page.evaluate("globalThis.kilterRun.entries")

    def state(self) -> dict[str, Any]:
        return self.page.evaluate("globalThis.kilterRun.state")

    def step(self) -> str:
        return str(self.state()["step"])

    def press(self, words: str) -> None:
        self.page.get_by_role("button", name=words, exact=False).first.click()
        self.settle()

    def main(self) -> None:
        self.page.locator(".run-foot .run-main").click()
        self.settle()

    def caution(self) -> bool:
        """Go through the warnings that stand here, and say that they were read."""
        while (
            on := self.page.get_by_role("button", name=re.compile("Next warning|end of the warning"))
        ).count():
            on.click()
        if not (read := self.page.get_by_role("button", name="I have read")).count():
            return False
        read.click()
        self.settle()
        return True

    def cautions(self) -> int:
        """Read every warning that stands before the step."""
        count = 0
        while self.caution():
            count += 1
        return count

    def wait(self) -> None:
        """Sit out each wait of the step, on a clock that the test moves."""
        while self.page.locator(".run-wait").count():
            self.page.locator(".run-wait").first.click()
            self.settle()
            left = self.page.evaluate(
                "globalThis.kilterRun.state.visit.waiting.reduce((most, w) => Math.max(most, w.wanted), 0)"
            )
            self.page.clock.run_for((left + 2) * 1000)
            self.page.wait_for_timeout(50)
            self.settle()

    def read(self, value: str, tool: str = "V-17", due: str = "2027-06-30", which: int = 0) -> None:
        """Enter a reading with the keys of the page."""
        box = self.page.locator(".run-reading").nth(which)
        box.get_by_role("button").first.click()
        for sign in value:
            name = {"-": "plus or minus", ".": "decimal point"}.get(sign, sign)
            box.locator(".keys").get_by_role("button", name=name, exact=True).click()
        details = box.locator(".run-tool")
        if details.count():
            if not details.evaluate("e => e.open"):
                details.locator("summary").click()
            details.locator("input").first.fill(tool)
            details.locator("input[type=date]").fill(due)
        box.get_by_role("button", name="Take it").click()
        self.settle()

    def answer(self, n: int) -> None:
        self.page.locator(".run-answer").nth(n).click()
        self.settle()

    def back(self, off: tuple[str, ...] = ()) -> None:
        """Say of every lock that it is on, or off; then go on."""
        for box in self.page.locator(".run-sheet fieldset").all():
            name = box.locator("legend").inner_text()
            box.get_by_label("the lock is off" if name in off else "the lock is on").check()
        self.press("Go on")
