"""Half-written, broken, gone and back again: the pages say so and recover by themselves."""

from __future__ import annotations

import http.client
import json
import shutil
import threading
import time

from tests.live.frame import LEAD, LIFT, PROFILE, ROOT, edit, get, library, opened, until


def page(live, address: str) -> str:
    return get(live, f"/{address}").body.decode()


def test_changes_are_seen_by_the_watcher_and_told_in_a_line(tmp_path):
    procedures = library(tmp_path, training=True)
    with opened(tmp_path, running=True) as live:
        edit(procedures / LIFT, "Watch the dock lamp", "Watch the lamp")
        until(lambda: "Watch the lamp" in page(live, "lft-120.html"))
        assert until(
            lambda: [
                x
                for x in live.lines
                if x[9:].startswith(f"{LIFT}: 0 errors, 0 warnings; 1 other document checked again - ")
            ]
        )
        assert live.counts() == "12 documents, 0 errors"


def test_a_file_emptied_for_a_moment_is_waited_for(tmp_path):
    procedures = library(tmp_path)
    file = procedures / LIFT
    words = file.read_bytes()
    with opened(tmp_path) as live:
        file.write_bytes(b"")
        filler = threading.Timer(0.05, file.write_bytes, [words.replace(b"dock lamp", b"lamp")])
        filler.start()
        live.watcher.look()
        filler.join()
        assert "Watch the lamp" in page(live, "lft-120.html") and "Not publishable" not in page(
            live, "lft-120.html"
        )


def test_a_file_cut_short_keeps_its_address_and_comes_back(tmp_path):
    procedures = library(tmp_path)
    file = procedures / LIFT
    words = file.read_bytes()
    with opened(tmp_path) as live:
        whole = page(live, "lft-120.html")
        for cut in (
            b"",
            words[:10],
            words[:300],
            words[:3000],
            words[: len(words) // 2],
            b"\xff\xfe\x00" * 40,
        ):
            file.write_bytes(cut)
            live.watcher.look()
            assert "Not publishable: " in page(live, "lft-120.html"), cut[:40]
            assert get(live, f"/findings/{LIFT}").status == 200
            assert get(live, "/states-lft-120.html").status == 200
        file.write_bytes(words)
        live.watcher.look()
        assert page(live, "lft-120.html") == whole


def test_every_cut_of_a_document_gives_a_page(tmp_path):
    procedures = library(tmp_path)
    file = procedures / "stretcher/str-110-rail-latch-switch.md"
    rows = file.read_text(encoding="utf-8").splitlines(keepends=True)
    with opened(tmp_path) as live:
        for n in range(1, len(rows), 5):
            file.write_text("".join(rows[:n]), encoding="utf-8")
            live.watcher.look()
            for address in (
                "str-110.html",
                "states-str-110.html",
                "withheld.html",
                "card/STR-110",
                f"findings/{LIFT}",
            ):
                answer = get(live, f"/{address}")
                assert answer.status == 200 and b"itself failed" not in answer.body, (n, address)


def test_findings_stand_at_their_step_and_lead_to_the_place(tmp_path):
    procedures = library(tmp_path)
    edit(procedures / LIFT, "### Watch the dock lamp", "### Watch the dock lamp\n:hands: nowhere\n")
    with opened(tmp_path) as live:
        path = next(p for p in live.bench.workspace.paths() if p.endswith(LIFT))
        found = next(d for d in live.bench.workspace.findings(path) if d.rule == "bad-hands")
        html = page(live, "lft-120.html")
        step = html.split('id="watch-the-dock-lamp"')[1].split("</section>")[0]
        assert (
            "remark" in step
            and f"/write/{LIFT}?line={found.span.line}&amp;column={found.span.column}" in step
        )
        assert f"{path}:{found.span.line}:{found.span.column}" in step


def test_a_document_gone_renamed_or_under_another_number(tmp_path):
    procedures = library(tmp_path)
    with opened(tmp_path) as live:
        whole = page(live, "lft-130.html")
        (procedures / LEAD).rename(procedures / "lift/lead.md")
        live.watcher.look()
        assert get(live, "/lft-130.html").status == 200
        edit(procedures / "lift/lead.md", "number: LFT-130", "number: LFT-131")
        live.watcher.look()
        lost = get(live, "/lft-130.html")
        assert lost.status == 404 and b'<a href="lft-131.html">' in lost.body
        (procedures / "lift/lead.md").unlink()
        live.watcher.look()
        assert b"not there any more" in get(live, "/lft-131.html").body
        shutil.copy(ROOT / "procedures" / LEAD, procedures / LEAD)
        live.watcher.look()
        assert page(live, "lft-130.html") == whole


def test_a_broken_profile_is_named_on_the_pages_that_stand_on_it(tmp_path):
    procedures = library(tmp_path)
    words = (procedures / PROFILE).read_bytes()
    with opened(tmp_path) as live:
        whole = page(live, "lft-120.html")
        (procedures / PROFILE).write_text(
            "---\nkind: equipment\nid: egret-2\nsources: 3\n---\n", encoding="utf-8"
        )
        live.watcher.look()
        assert "Not publishable" in page(live, "lft-120.html")
        assert "Not publishable" in page(live, "equipment-egret-2.html")
        (procedures / PROFILE).write_bytes(words)
        live.watcher.look()
        assert page(live, "lft-120.html") == whole


def test_broken_settings_leave_the_last_good_ones_in_force(tmp_path):
    library(tmp_path)
    config = tmp_path / "mkdocs.yml"
    words = config.read_text(encoding="utf-8")
    with opened(tmp_path) as live:
        whole = page(live, "lft-120.html")
        for broken in (
            "site_name: [",
            "",
            "site_name: x\ntheme: readthedocs\n",
            "plugins: [nothing-of-this-name]\nsite_name: x\n",
        ):
            config.write_text(broken, encoding="utf-8")
            live.watcher.look()
            html = page(live, "lft-120.html")
            assert 'id="live-trouble"' in html and "mkdocs.yml" in html, broken
            assert "Tolbeck Vale workshop" in html and "Not publishable" not in html
            assert "\n" not in live.bench.trouble and "mkdocs.yml" in live.lines[-1]
        config.unlink()
        live.watcher.look()
        assert 'id="live-trouble"' in page(live, "lft-120.html")
        config.write_text(words, encoding="utf-8")
        live.watcher.look()
        assert page(live, "lft-120.html") == whole


def test_the_whole_folder_away_and_back(tmp_path):
    procedures = library(tmp_path)
    with opened(tmp_path, running=True) as live:
        procedures.rename(tmp_path / "away")
        until(lambda: get(live, "/lft-120.html").status == 404)
        (tmp_path / "away").rename(procedures)
        until(lambda: get(live, "/lft-120.html").status == 200)
        edit(procedures / LIFT, "Watch the dock lamp", "Watch the lamp")
        until(lambda: "Watch the lamp" in page(live, "lft-120.html"))


def test_two_editors_saving_at_once(tmp_path):
    procedures = library(tmp_path)
    files = [procedures / LIFT, procedures / LEAD]
    words = [f.read_text(encoding="utf-8") for f in files]

    def save(n: int) -> None:
        for k in range(25):
            files[n].write_text(
                words[n].replace("\n# ", f"\n# {k} ", 1).replace("title: ", f"title: {k} ", 1), "utf-8"
            )
            time.sleep(0.01)

    with opened(tmp_path, running=True) as live:
        savers = [threading.Thread(target=save, args=(n,)) for n in (0, 1)]
        for each in savers:
            each.start()
        while any(each.is_alive() for each in savers):
            assert get(live, "/lft-120.html").status == 200
        until(
            lambda: "24 Find why" in page(live, "lft-120.html") and "24 Replace" in page(live, "lft-130.html")
        )
        until(lambda: "24 Find why" in page(live, "by-number.html"))


def test_a_fault_of_the_tool_is_a_page_and_the_rest_goes_on(tmp_path, monkeypatch):
    procedures = library(tmp_path)
    with opened(tmp_path) as live:
        from kilter.publish.site import document

        def fails(*_):
            raise RuntimeError("a wheel came off")

        monkeypatch.setattr(document.head, "title_block", fails)
        answer = get(live, "/lft-120.html")
        assert answer.status == 500 and b"a wheel came off" in answer.body and b"Traceback" not in answer.body
        assert "/lft-120.html: the tool itself failed: RuntimeError: a wheel came off" in live.lines[-1]
        assert get(live, "/guide.html").status == 200
        monkeypatch.undo()
        edit(procedures / LIFT, "Watch the dock lamp", "Watch the lamp")
        live.watcher.look()
        assert get(live, "/lft-120.html").status == 200


def test_a_card_too_tall_holds_its_document_back(tmp_path):
    procedures = library(tmp_path)
    words = "Watch the lamp. " * 400
    with opened(tmp_path) as live:
        path = live.bench.workspace.shown(procedures / LIFT)
        edit(procedures / LIFT, "Hang your tag on the mast.", f"Hang your tag on the mast. {words}")
        live.watcher.look()
        view = live.bench.site.shelf.view(path)
        assert view is not None, "the check alone does not refuse it"
        assert live.press.attempt(view)
        live.bench.changed([path])
        assert "Not publishable: 2 errors" in page(live, "lft-120.html")
        assert "mm high on the procedure card" in page(live, "lft-120.html")
        assert "LFT-120" in page(live, "withheld.html") and "LFT-120" not in page(live, "by-number.html")
        assert "There is no card" in page(live, "card/LFT-120")


def test_cards_of_all_documents_are_tried_in_the_background(tmp_path):
    procedures = library(tmp_path)
    edit(procedures / LEAD, "\n## ", f"\n{'Wind the cord. ' * 600}\n\n## ")
    with opened(tmp_path, running=True) as live:
        assert live.trials.done(60)
        assert live.trials.left() == 0
        assert "LFT-130" in page(live, "withheld.html") and "LFT-130" not in page(live, "by-number.html")


def test_the_events_of_a_page(tmp_path):
    procedures = library(tmp_path, training=True)
    with opened(tmp_path, running=True) as live:
        assert live.trials.done(60)
        one, two = stream(live, "/lft-120.html"), stream(live, "/str-110.html")
        first, other = next_event(one), next_event(two)
        assert first["token"] == live.bench.token
        edit(procedures / LIFT, "Watch the dock lamp", "Watch the lamp")
        changed, unchanged = next_event(one), next_event(two)
        assert (
            changed["names"] == [LIFT, "training/trn-020-rail-latch.md"]
            and changed["version"] != first["version"]
        )
        assert unchanged["version"] == other["version"]
        assert changed["version"] == get(live, "/lft-120.html").headers["x-kilter-version"]
        assert len(live.hub) == 2
        one.close()
        live.hub.announce([])
        live.hub.announce([])
        until(lambda: len(live.hub) == 1)
        two.close()


def stream(live, address: str):
    connection = http.client.HTTPConnection("127.0.0.1", live.server.server_address[1], timeout=30)
    connection.request("GET", f"/events?page={address}")
    answer = connection.getresponse()
    assert answer.status == 200 and answer.getheader("Content-Type") == "text/event-stream"
    return answer


def next_event(answer) -> dict:
    while True:
        line = answer.readline().decode()
        if line.startswith("data: "):
            return json.loads(line[6:])


def test_a_silent_stream_gets_a_comment():
    from kilter.live.events import Stream

    assert Stream("/").next(0.01).startswith(b":")


def test_the_stream_of_a_page_that_takes_nothing_is_ended():
    from kilter.live.events import Stream

    stuck = Stream("/")
    for _ in range(201):
        stuck.put(b"x")
    assert stuck.next(0.01) is None
