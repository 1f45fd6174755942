"""The mkdocs plugin: it renders every page itself and publishes nothing that it did not make.

mkdocs stays the frame (configuration, theme folder, watching); Python-Markdown is given nothing to do.
"""

from __future__ import annotations

import gc
import os
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

from mkdocs.config import config_options as c
from mkdocs.config.base import Config
from mkdocs.config.defaults import MkDocsConfig
from mkdocs.exceptions import PluginError
from mkdocs.plugins import BasePlugin, get_plugin_logger
from mkdocs.structure.files import File, Files, InclusionLevel
from mkdocs.structure.pages import Page as MkDocsPage

from kilter.publish.modules import modules_of
from kilter.publish.prepare import Prepared, prepare
from kilter.publish.site import words
from kilter.publish.site.assemble import assemble
from kilter.publish.site.offline import OFFLINE, offline_list
from kilter.publish.site.page import POLICY, Page, Site
from kilter.publish.training.taught import Taught

os.environ.setdefault("NO_MKDOCS_2_WARNING", "1")
log = get_plugin_logger(__name__)

TEMPLATES = Path(__file__).parent / "templates"
OF_THEME = "assets/stylesheets/"
"""Of the theme's files only the style sheets are used."""


class KilterConfig(Config):  # type: ignore[no-untyped-call]
    """What `mkdocs.yml` may say under `kilter`; `read.library.read_settings` reads the same keys."""

    contact = c.Type(str, default="")
    hold_words = c.Type(list, default=[])
    idle_minutes = c.Type(int, default=30)
    shelf_days = c.Type(int, default=14)
    written_in = c.Type(str, default="")
    """Language of the documents, where it is not that of the interface (`theme: language:`)."""

    def load_dict(self, patch: dict[str, Any]) -> None:
        """Keys are written with hyphens, as everywhere in Kilter."""
        super().load_dict({key.replace("-", "_"): value for key, value in patch.items()})


class KilterPlugin(BasePlugin[KilterConfig]):  # type: ignore[no-untyped-call]
    """Reads, checks and publishes the library in `docs_dir`."""

    def __init__(self) -> None:
        self.given: Prepared | None = None
        self.cards: Mapping[str, bytes] = {}
        self.modules: Sequence[Taught] = ()
        self.made: dict[str, Page] = {}
        self.sets: Mapping[str, tuple[str, tuple[str, ...]]] = {}

    def use(self, ready: Prepared, cards: Mapping[str, bytes], modules: Sequence[Taught] = ()) -> None:
        """Take over what `kilter build` has already prepared, for the next build only."""
        self.given, self.cards, self.modules = ready, cards, modules

    def on_config(self, config: MkDocsConfig) -> MkDocsConfig:
        if config.theme.name != "material":
            raise PluginError("mkdocs.yml: `theme:` has to be `name: material`")
        _choose_words(str(config.theme["language"]), self.config.written_in)
        # documents live until the build ends: looking for garbage among them costs a quarter of the time
        gc.disable()
        # Python-Markdown is given empty pages; its extensions would only be set up a thousand times
        config.markdown_extensions = []
        config.use_directory_urls = False
        config.theme["font"] = False
        config.theme["palette"] = {}
        config.theme["features"] = ["navigation.prune"]
        config.theme["favicon"] = "assets/icon.svg"
        config.theme.static_templates.difference_update({"404.html", "sitemap.xml"})
        if str(TEMPLATES) not in config.theme.dirs:
            config.theme.dirs.insert(0, str(TEMPLATES))
        config.extra.update(policy=POLICY, word=words.word)
        if "search" in config.plugins or "material/search" in config.plugins:
            log.warning("mkdocs.yml: the plugin `search` is not needed; Kilter brings its own search")
        return config

    def on_files(self, files: Files, *, config: MkDocsConfig) -> Files:
        ready, modules = self.given, self.modules
        if ready is None:
            ready = prepare(_shown(Path(config.docs_dir)))
            modules = modules_of(ready, only_open=True)
        self.given = None
        site = assemble(ready, self.cards, modules)
        for each in ready.withheld:
            log.warning("not published: %s (%s)", each.name, each.path)
        self.made = {page.address: page for page in site.pages}
        self.sets = site.sets
        return Files([f for f in files if _of_theme(f, config)] + _generated(site, config))

    def on_post_build(self, *, config: MkDocsConfig) -> None:
        site = Path(config.site_dir)
        (site / OFFLINE).write_bytes(offline_list(site, self.sets))
        gc.enable()

    def on_build_error(self, *, error: Exception) -> None:
        gc.enable()

    def on_page_read_source(self, *, page: MkDocsPage, config: MkDocsConfig) -> str:
        return ""

    def on_page_markdown(self, markdown: str, *, page: MkDocsPage, config: MkDocsConfig, files: Files) -> str:
        made = self.made[page.file.dest_uri]
        page.meta.update(title=made.title, template=made.template, description=made.description)
        page.meta.update(searchable=made.searchable, language=made.language)
        return ""

    def on_page_content(self, html: str, *, page: MkDocsPage, config: MkDocsConfig, files: Files) -> str:
        return self.made[page.file.dest_uri].body


def _choose_words(language: str, written: str) -> None:
    """Which language the pages are made in; raises PluginError for one that has no file."""
    if language not in words.languages():
        known = ", ".join(words.languages())
        raise PluginError(f"mkdocs.yml: `theme: language: {language}` has no words; there are: {known}")
    words.use(language, written)


def _shown(docs: Path) -> Path:
    """Relative to where the user stands, if that is above it: so paths in messages stay short."""
    try:
        return docs.relative_to(Path.cwd())
    except ValueError:
        return docs


def _of_theme(file: File, config: MkDocsConfig) -> bool:
    """A file that the theme brings and a page uses; nothing of the documents' folder."""
    if file.src_dir is None or Path(file.src_dir) == Path(config.docs_dir):
        return False
    return file.src_uri.startswith(OF_THEME) and not file.src_uri.endswith(".map")


def _generated(site: Site, config: MkDocsConfig) -> list[File]:
    hidden = InclusionLevel.NOT_IN_NAV
    pages = [
        File.generated(config, p.address.removesuffix(".html") + ".md", content="", inclusion=hidden)
        for p in site.pages
    ]
    others = [File.generated(config, name, content=data) for name, data in sorted(site.files.items())]
    return pages + others
