"""The frame around a page's body, from `mkdocs.yml` and the theme, exactly as a build makes it."""

from __future__ import annotations

import gc
import os
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import yaml

from kilter.outcome import CouldNotRunError
from kilter.publish.site.page import Page


class FrameError(Exception):
    """`mkdocs.yml` can't be used; the message says why."""


@dataclass(frozen=True, eq=False)
class Frame:
    """mkdocs' configuration and templates, set up once for each state of `mkdocs.yml`."""

    config: Any
    environment: Any
    navigation: Any
    docs: Path

    def around(self, page: Page) -> str:
        """The whole page, as `kilter build` writes it."""
        from mkdocs.commands.build import get_context
        from mkdocs.structure.files import File, Files, InclusionLevel
        from mkdocs.structure.pages import Page as MkDocsPage
        from mkdocs.structure.toc import TableOfContents

        name = page.address.removesuffix(".html") + ".md"
        file = File.generated(self.config, name, content="", inclusion=InclusionLevel.NOT_IN_NAV)
        shown = MkDocsPage(None, file, self.config)
        shown.meta = {
            "title": page.title,
            "template": page.template,
            "description": page.description,
            "searchable": page.searchable,
            "language": page.language,
        }
        shown.content, shown.toc, shown.markdown = page.body, TableOfContents([]), ""
        context = get_context(self.navigation, Files([file]), self.config, shown)
        plugins = self.config.plugins
        context = plugins.on_page_context(context, page=shown, config=self.config, nav=self.navigation)
        output = self.environment.get_template(page.template).render(context)
        return str(plugins.on_post_page(output, page=shown, config=self.config))

    def theme_file(self, name: str) -> bytes | None:
        """A file that the theme brings; `name` is its path below the site. None for what it does not have."""
        from kilter.publish.site.plugin import OF_THEME

        if not name.startswith(OF_THEME) or ".." in name.split("/") or name.endswith(".map"):
            return None
        files = (Path(folder) / name for folder in self.config.theme.dirs)
        return next((f.read_bytes() for f in files if f.is_file()), None)


def load_frame(config_file: Path) -> Frame:
    """Read `mkdocs.yml` and set up the templates. Raises FrameError."""
    os.environ.setdefault("NO_MKDOCS_2_WARNING", "1")
    from mkdocs.exceptions import MkDocsException

    try:
        return _loaded(config_file)
    except CouldNotRunError as trouble:
        raise FrameError(str(trouble)) from None
    except (MkDocsException, yaml.YAMLError, OSError, SystemExit) as trouble:
        raise FrameError(f"{config_file.name}: {_one_line(trouble)}") from None
    finally:
        gc.enable()  # the plugin puts it off for the length of a build


def _loaded(config_file: Path) -> Frame:
    from mkdocs.config import load_config
    from mkdocs.structure.files import Files
    from mkdocs.structure.nav import get_navigation

    config = load_config(str(config_file))
    if "kilter" not in config.plugins:
        raise CouldNotRunError(f"{config_file.name}: `kilter` is missing under `plugins:`")
    config.plugins.on_startup(command="serve", dirty=False)
    config = config.plugins.on_config(config)
    environment = config.theme.get_env()
    files = Files([])
    navigation = get_navigation(files, config)
    environment = config.plugins.on_env(environment, config=config, files=files)
    return Frame(config, environment, navigation, Path(config.docs_dir))


def _one_line(trouble: BaseException) -> str:
    return " ".join(str(trouble).split()) or type(trouble).__name__
