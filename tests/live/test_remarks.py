"""A remark from a phone stands at its step in the live page until somebody has answered it."""

import json

import pytest
from tests.live import frame
from tests.publish.site_browser import browser, need_browser, watch
from tests.records import frame as phone

from kilter.live.web import Request
from kilter.records.store import RecordStore


@pytest.fixture
def folder(tmp_path):
    frame.library(tmp_path)
    return tmp_path


def take(folder, *remarks):
    RecordStore(folder / "records").take([phone.record(each) for each in remarks])


def page(live):
    return frame.get(live, "/str-110.html").body.decode()


def test_a_remark_stands_under_the_title_of_its_step(folder):
    step = phone.plan()["steps"][1]
    with frame.opened(folder) as live:
        assert "live-remark" not in page(live)
        take(folder, phone.remark("Wrong <b>screw</b> & so on."))
        html = page(live)
        assert "Wrong &lt;b&gt;screw&lt;/b&gt; &amp; so on." in html
        title, remark = html.index(f'id="{step["anchor"]}"'), html.index('<aside class="live-remark"')
        assert title < html.index("</h3>", title) + 5 == remark
        assert "1 remark from the machine: " in html and f'href="#{step["anchor"]}"' in html
        assert "/live/remarks.js" in html
        assert "live-remark" not in frame.get(live, "/lft-120.html").body.decode()
        assert "live-remark" not in live.bench.site.plain("str-110.html")


def test_a_remark_on_a_step_that_is_gone_stands_on_top(folder):
    take(folder, phone.remark())
    with frame.opened(folder) as live:
        number = phone.plan()["steps"][1]
        file = next((folder / "procedures").rglob("str-110-*.md"))
        frame.edit(file, f"### {number['title']}\n", "### Something else\n")
        live.bench.refresh([file])
        html = page(live)
        assert html.count('class="live-remark"') == 1
        assert "The step is not there any more:" in html


def test_an_answer_puts_it_aside(folder):
    take(folder, phone.remark())
    with frame.opened(folder) as live:
        id = phone.remark()["id"]

        def answer(**body):
            data = json.dumps(body).encode()
            return live.guard.answer(Request("POST", "/remarks/answer", {}, {}, data))

        assert "live-remark" in page(live)
        assert answer(id=id).status == 400
        assert answer(id=id, words=7).status == 400
        assert answer(id=id, words=" ").status == 422
        assert answer(id="other", words="x").status == 422
        assert answer(id=id, words="Arrow moved.").status == 200
        assert "live-remark" not in page(live)
        assert answer(id=id, words="Arrow moved.").status == 422
    assert RecordStore(folder / "records").answered() == {id: "Arrow moved."}


def test_a_damaged_record_does_not_take_the_page_away(folder):
    take(folder, phone.remark())
    (file,) = (folder / "records" / "taken").glob("*.json")
    file.write_text(file.read_text()[:-9])
    with frame.opened(folder) as live:
        assert frame.get(live, "/str-110.html").status == 200
        assert "changed after it was taken in" in page(live)


@pytest.mark.browser
def test_the_button_answers(folder):
    need_browser()
    take(folder, phone.remark())
    with frame.opened(folder, running=True) as live, browser() as opened:
        page = opened.new_page(viewport={"width": 1280, "height": 900})
        trouble = watch(page)
        page.goto(live.address + "str-110.html")
        box = page.locator(".live-remark")
        box.scroll_into_view_if_needed()
        box.get_by_text("Answer it").click()
        box.get_by_role("button").click()
        page.get_by_text("Say in 1 to 500 characters").wait_for()
        trouble.clear()
        box.get_by_label("What was done about it").fill("Arrow moved.")
        box.get_by_role("button").click()
        box.wait_for(state="detached")
        page.get_by_text("1 remark from the machine").wait_for(state="detached")
        assert trouble == []
