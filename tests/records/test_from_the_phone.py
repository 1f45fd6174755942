"""The whole way: worked through on a phone, handed over, taken in here, and off the phone only against the receipt."""

import json
import re
import shutil
from pathlib import Path

import pytest
from tests.publish.site_browser import watch
from tests.run.hand import PHONE, Hand
from tests.run.test_repair import go, record_of

from kilter.cli import main
from kilter.publish.site import words

pytestmark = pytest.mark.browser
SHELF = "shelf.html"


@pytest.fixture
def phone(opened):
    base, chromium = opened
    context = chromium.new_context(
        **PHONE, accept_downloads=True, timezone_id="Asia/Kolkata", service_workers="block"
    )
    page = context.new_page()
    page.set_default_timeout(8000)
    page.clock.install()
    trouble = watch(page)
    page.goto(f"{base}str-110.html")
    yield Hand(page)
    # a page that is left drops its requests; one that fails by itself also says so on the console
    assert [each for each in trouble if not each.startswith("failed: ")] == []
    context.close()


def shelf(hand, opened):
    hand.page.goto(opened[0] + SHELF)
    hand.page.wait_for_selector(".shelf-records")


def test_a_run_and_a_remark_come_home_and_leave_the_phone(phone, opened, library, capsys):
    phone.begin()
    go(phone, stop_at="set-the-bracket")
    phone.page.locator(".run-more summary").click()
    phone.press("This step is wrong")
    phone.page.locator("textarea").fill("The bracket's screw is the upper one.\nNaïve Ω 😀")
    phone.press("Keep")
    go(phone)
    assert record_of(phone)["exit"]

    shelf(phone, opened)
    page = phone.page
    page.get_by_text("Not handed over yet: 1 of 2 records").wait_for()
    with page.expect_download() as got:
        page.get_by_role("button", name="Hand all over").click()
    file = library / "from-phone.json"
    shutil.copy(Path(got.value.path()), file)
    given = json.loads(file.read_text(encoding="utf-8"))
    assert [r["kind"] for r in given] == ["run", "remark"]
    assert all(r["started"].endswith("+05:30") for r in given)

    page.get_by_text("Not handed over yet: 0 of 2 records").wait_for()
    assert main(["records", "take", "from-phone.json"]) == 0
    out = capsys.readouterr().out
    assert "1 file checked: nothing to mend" in out and "2 records received" in out
    codes = re.findall(r"^  ([0-9A-F]{4}-[0-9A-F]{4})  ", out, re.MULTILINE)
    assert len(codes) == 2
    main(["records", "remarks"])
    assert "The bracket's screw is the upper one." in capsys.readouterr().out

    wrong = "0000-0000" if "0000-0000" not in codes else "0000-0001"
    receipt(page, wrong)
    page.get_by_text(said(0, 2)).wait_for()
    receipt(page, codes[0].lower().replace("-", ""))
    page.get_by_text(said(1, 1)).wait_for()
    receipt(page, next(library.glob("records/receipts/*.json")).read_text(encoding="utf-8"))
    page.get_by_text(said(1, 0)).wait_for()
    page.reload()
    shelf(phone, opened)
    assert page.locator(".shelf-records details").count() == 0


def said(gone, left):
    return words.word("script.run.shelf.received", gone=gone, left=left)


def receipt(page, text):
    box = page.locator(".shelf-receipt")
    if not box.evaluate("e => e.open"):
        box.locator("summary").click()
    box.locator("textarea").fill(text)
    box.locator("button").click()


def test_open_work_stays_whatever_a_receipt_says_and_grows_into_one_record(phone, opened, library, capsys):
    phone.begin()
    go(phone, stop_at="a.prove-it-dead")
    address = phone.page.url
    shelf(phone, opened)
    page = phone.page
    with page.expect_download() as got:
        page.get_by_role("button", name="Hand all over").click()
    shutil.copy(Path(got.value.path()), library / "half.json")
    assert main(["records", "take", "half.json"]) == 0
    codes = re.findall(r"^  ([0-9A-F]{4}-[0-9A-F]{4})  ", capsys.readouterr().out, re.MULTILINE)
    page.get_by_text("Not handed over yet: 0 of 1 records").wait_for()
    receipt(page, codes[0])
    page.get_by_text(said(0, 1)).wait_for()

    page.goto(address)
    page.reload()
    page.locator(".run-foot button").first.wait_for()
    page.wait_for_timeout(300)
    phone.settle()
    go(phone)
    (library / "whole.json").write_text(json.dumps(record_of(phone)), encoding="utf-8")
    assert main(["records", "take", "whole.json"]) == 0
    assert "longer than before" in capsys.readouterr().out
    assert main(["records", "take", "half.json"]) == 0
    assert "received before" in capsys.readouterr().out
    assert len(list(library.glob("records/taken/*.json"))) == 1


def test_a_short_record_goes_by_its_code(phone, opened, library, capsys):
    """The picture of the screen, as a camera of the workshop would have it, is read back and taken in."""
    pytest.importorskip("zxingcpp")
    pytest.importorskip("pypdfium2")
    phone.begin()
    shelf(phone, opened)
    page = phone.page
    page.locator(".shelf-records summary").first.click()
    page.get_by_role("button", name="Show as a code").click()
    page.locator("canvas.run-code").wait_for()
    page.locator("canvas.run-code").screenshot(path=library / "screen.png")
    assert main(["records", "take", "screen.png"]) == 0
    assert "STR-110 B, B-0412, open: new" in capsys.readouterr().out
    page.get_by_role("button", name="It was taken").click()
    page.get_by_text("Not handed over yet: 0 of 1 records").wait_for()
