"""The MkDocs plugin: checks every statement, draws every panel, and needs no network."""

import logging
from pathlib import Path
from typing import Any

from mkdocs.config import base
from mkdocs.config import config_options as option
from mkdocs.config.defaults import MkDocsConfig
from mkdocs.exceptions import PluginError
from mkdocs.plugins import BasePlugin, event_priority
from mkdocs.structure.files import File, Files
from mkdocs.structure.pages import Page
from mkdocs.utils import get_relative_url

from wetwing.aircraft.mistakes import Mistake
from wetwing.aircraft.model import Aircraft
from wetwing.aircraft.read import fleet
from wetwing.teach.claims import Claims
from wetwing_tools import runtime
from wetwing_tools.site import blocks, bundle, generated, twin
from wetwing_tools.site.checking import check_moments
from wetwing_tools.site.foot import Foot
from wetwing_tools.site.front import Front, first_line_of, read_front
from wetwing_tools.site.library import Library, model_revision
from wetwing_tools.site.page import PageMaker
from wetwing_tools.site.panels import Panels
from wetwing_tools.site.slips import Slips

log = logging.getLogger("mkdocs.plugins.wetwing")

HOME = "index.html"
SHEET = "reference/aircraft.md"
# Sources of the bundle: the site ships what is made from them.
NOT_FOR_THE_SITE = ("panel/", "assets/site.js", "assets/site.css")
NATIVE_WORKER = "assets/native-worker.js"
SHIM = "assets/iframe-worker.js"


class WetWingConfig(base.Config):  # type: ignore[no-untyped-call]
    """What `mkdocs.yml` may say under the plugin."""

    aircraft = option.Type(str, default="alder-165")
    flight = option.Type(str, default="day-sector")
    live = option.Type(bool, default=True)


class WetWingPlugin(BasePlugin[WetWingConfig]):  # type: ignore[no-untyped-call]
    """Ties notation, checks, panels and generated pages into a MkDocs build."""

    def __init__(self) -> None:
        """Start with an empty library; each build starts again with no slip."""
        self.library = Library()
        self.slips = Slips()
        self.makers: dict[str, PageMaker] = {}
        self.model = model_revision()
        self.panels = Panels()

    @event_priority(100)
    def on_config(self, config: MkDocsConfig) -> MkDocsConfig:
        """Put our own copy of the worker shim where the theme would name one on another host."""
        self.slips = Slips()
        self.makers = {}
        _add_beside(config.nav, SHEET, generated.navigation(self._others()))
        shims = config.extra.setdefault("polyfills", [])
        shims += [name for name in (NATIVE_WORKER, SHIM) if name not in shims]
        return config

    def on_files(self, files: Files, config: MkDocsConfig) -> Files:
        """Leave out what only the bundle needs; add the bundle, the runtime and the generated pages."""
        for file in list(files):
            if file.src_uri.startswith(NOT_FOR_THE_SITE):
                files.remove(file)
        root, docs = Path(config.config_file_path).parent, Path(config.docs_dir)
        try:
            script, sheet = bundle.bundle_script(root, docs), bundle.bundle_sheet(root, docs)
            shim = bundle.shim(root)
        except bundle.BundleFailed as fault:
            raise PluginError(str(fault)) from fault
        config.extra_javascript.append(script.uri)
        config.extra_css.append(sheet.uri)
        texts = {
            script.uri: script.text,
            sheet.uri: sheet.text,
            NATIVE_WORKER: "window.wetwingNativeWorker = window.Worker;\n",
            SHIM: shim,
            **generated.pages(self.library.aircraft(self.config.aircraft), self._others()),
        }
        for uri, text in texts.items():
            files.append(File.generated(config, uri, content=text))
        if self.config.live:
            self._add_runtime(files, config, root)
        return files

    def _others(self) -> tuple[Aircraft, ...]:
        """The aircraft of the fleet that the site is not about."""
        return tuple(self.library.aircraft(name) for name in fleet() if name != self.config.aircraft)

    def _add_runtime(self, files: Files, config: MkDocsConfig, root: Path) -> None:
        try:
            made = runtime.build(root / "build" / "runtime")
        except (runtime.ArchiveError, runtime.MissingSource, runtime.StartFailed) as fault:
            raise PluginError(f"the page's runtime could not be built: {fault}") from fault
        for found in made.files:
            uri = f"assets/runtime/{made.folder}/{found.name}"
            files.append(File.generated(config, uri, abs_src_path=str(made.path / found.name)))
        self.panels.runtime_folder = f"assets/runtime/{made.folder}/"
        self.panels.runtime_manifest = made.manifest

    @event_priority(100)
    def on_page_markdown(self, markdown: str, page: Page, config: MkDocsConfig, files: Files) -> str:
        """Turn our notation into HTML, gathering every slip on the way."""
        source, uri = page.file.content_string, page.file.src_uri
        try:
            front = read_front(source, uri)
            flights = self.library.flights(
                front.aircraft or self.config.aircraft, front.flight or self.config.flight
            )
        except Mistake as mistake:
            self.slips.mistake(uri, 1, mistake)
            return markdown
        elsewhere = get_relative_url(HOME, page.file.url)
        claims = Claims(flights, front.moments)
        maker = PageMaker(
            uri, front, claims, self.slips, blocks.MAKERS, elsewhere, flights_of=self.library.flights
        )
        self.makers[uri] = maker
        check_moments(front, claims, uri, self.slips)
        return maker.make(markdown, first_line_of(source, markdown))

    def on_page_content(self, html: str, page: Page, config: MkDocsConfig, files: Files) -> str:
        """Put the foot under every page."""
        maker = self.makers.get(page.file.src_uri)
        content = bundle.content_hash(page.file.content_string)
        return html + Foot(page.file.url, content, self.model, maker.checked if maker else 0).html()

    def on_env(self, env: Any, config: MkDocsConfig, files: Files) -> Any:
        """Refuse the build if any page has a slip; all are said at once."""
        if self.slips.found:
            raise PluginError(self.slips.report())
        checked = sum(maker.checked for maker in self.makers.values())
        log.info(
            "%d statements checked, %d figures computed",
            checked,
            sum(m.figures for m in self.makers.values()),
        )
        return env

    def on_post_page(self, output: str, page: Page, config: MkDocsConfig) -> str:
        """Put the panel in its place, after the search index has been made without it."""
        maker = self.makers.get(page.file.src_uri)
        if not maker or not (maker.panel or maker.twin):
            return output
        base = (
            get_relative_url(self.panels.runtime_folder, page.file.url) if self.panels.runtime_folder else ""
        )
        if maker.twin:
            return output.replace(twin.SLOT, self.panels.twin_html(maker.twin, page.file.url, base))
        assert maker.panel
        drawn = self.panels.html(maker.claims.timeline.flight, maker.panel, page.file.url, base)
        return output.replace(blocks.SLOT, drawn)


def _add_beside(nav: Any, page: str, more: list[dict[str, str]]) -> None:
    """Add entries to the menu's section that holds a page, after that page."""
    if not isinstance(nav, list):
        return
    for at, entry in enumerate(nav):
        held = next(iter(entry.values())) if isinstance(entry, dict) else entry
        if held == page:
            nav[at + 1 : at + 1] = [one for one in more if one not in nav]
            return
        _add_beside(held, page, more)
