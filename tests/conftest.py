"""Settings of all tests, the demo library to change, and its site in a browser."""

import shutil
from pathlib import Path

import pytest
from hypothesis import settings

settings.register_profile("same every time", deadline=None, derandomize=True)
settings.load_profile("same every time")

ROOT = Path(__file__).parent.parent


@pytest.fixture
def library(tmp_path, monkeypatch):
    """A copy of the demo library, sound, and the working folder in it."""
    shutil.copytree(ROOT / "procedures", tmp_path / "procedures")
    shutil.copy(ROOT / "mkdocs.yml", tmp_path)
    monkeypatch.chdir(tmp_path)
    return tmp_path


@pytest.fixture(scope="session")
def demo_site(tmp_path_factory):
    """The site of the demo library, built once; who changes it takes a copy."""
    from tests.publish.site_frame import build_site

    return build_site(ROOT, tmp_path_factory.mktemp("demo") / "site")


@pytest.fixture(scope="module")
def chromium():
    """A browser; skipped visibly where there is none, but never where CI works."""
    from tests.publish.site_browser import browser, need_browser

    need_browser()
    with browser() as found:
        yield found


@pytest.fixture(scope="module")
def opened(demo_site, chromium):
    """Address of the demo site, and the browser."""
    from tests.publish.site_browser import served

    with served(demo_site) as base:
        yield base, chromium
