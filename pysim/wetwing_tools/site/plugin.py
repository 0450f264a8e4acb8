"""The MkDocs plugin: checks every statement, draws every panel, and needs no network."""

import logging
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from mkdocs.config import base
from mkdocs.config import config_options as option
from mkdocs.config.defaults import MkDocsConfig
from mkdocs.exceptions import PluginError
from mkdocs.plugins import BasePlugin, event_priority
from mkdocs.structure.files import File, Files, InclusionLevel
from mkdocs.structure.pages import Page
from mkdocs.utils import get_relative_url

from wetwing.aircraft.model import Aircraft
from wetwing.aircraft.read import fleet
from wetwing_tools import runtime
from wetwing_tools.data.shipped import slips_of_shipped
from wetwing_tools.site import bundle, changes_page, differences, generated, schemas
from wetwing_tools.site.course import Course, exercise_objectives, read_course
from wetwing_tools.site.foot import Foot
from wetwing_tools.site.front import body_of
from wetwing_tools.site.library import Library, model_revision
from wetwing_tools.site.making import Job, Made, Terms, make_all
from wetwing_tools.site.panels import Panels
from wetwing_tools.site.polish import polished
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
        self.made: dict[str, Made] = {}
        self.kept: dict[str, Made] = {}
        self.model = model_revision()
        self.panels = Panels()
        self.course = Course(())

    @event_priority(100)
    def on_config(self, config: MkDocsConfig) -> MkDocsConfig:
        """Put our own copy of the worker shim where the theme would name one on another host."""
        self.slips = Slips()
        self.made = {}
        data = slips_of_shipped()
        if data:
            raise PluginError("\n".join(["slips in the files of aircraft and flights:", *map(str, data)]))
        _add_beside(config.nav, SHEET, generated.navigation(self._others()))
        _add_beside(config.nav, differences.INDEX, differences.navigation(self._fleet()))
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
            **schemas.files(),
            **generated.pages(self.library.aircraft(self.config.aircraft), self._others()),
        }
        for uri, text in texts.items():
            files.append(File.generated(config, uri, content=text))
        self._add_course(files, config, {uri: text for uri, text in texts.items() if uri.endswith(".md")})
        if self.config.live:
            self._add_runtime(files, config, root)
        return files

    def _add_course(self, files: Files, config: MkDocsConfig, made: dict[str, str]) -> None:
        """Read every page that somebody wrote, note what they miss, and add the pages made from them; `made`
        are pages that are made already.

        A build that leaves pages out (`exclude_docs`) knows their objectives, but cannot judge the whole.
        """
        written = [file for file in files.documentation_pages(inclusion=_any) if file.generated_by is None]
        left_out = {file.src_uri for file in written if file.inclusion is InclusionLevel.EXCLUDED}
        order = list(_pages_in(config.nav))
        written.sort(key=lambda file: order.index(file.src_uri) if file.src_uri in order else len(order))
        self.course = read_course({file.src_uri: file.content_string for file in written}, left_out)
        self.course.check(self.slips, self._fleet())
        more: dict[str, str] = {}
        changes = Path(config.docs_dir).parent / "CHANGELOG.md"
        if changes.exists():
            more["reference/changes.md"] = changes_page.page(changes.read_text("utf-8"), self.model)
        if any(one.page == differences.INDEX for one in self.course.surveys):
            more |= differences.pages(self._fleet(), self.library.flights)
        more |= self.course.pages(exercise_objectives(), {**made, **more})
        for uri, text in more.items():
            files.append(File.generated(config, uri, content=text, inclusion=InclusionLevel.NOT_IN_NAV))

    def _fleet(self) -> tuple[Aircraft, ...]:
        """Every aircraft of the fleet, that of the site first."""
        return self.library.aircraft(self.config.aircraft), *self._others()

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

    def on_nav(self, nav: Any, config: MkDocsConfig, files: Files) -> Any:
        """Make every page before the first is asked for, several at a time."""
        jobs = []
        for file in files.documentation_pages():
            source = file.content_string
            jobs.append(
                Job(file.src_uri, file.url, source, body_of(source), get_relative_url(HOME, file.url))
            )
        terms = Terms(self.config.aircraft, self.config.flight, self.course.objectives)
        self.made = make_all(jobs, terms, self.kept)
        for made in self.made.values():
            self.slips.found += made.slips
        return nav

    @event_priority(100)
    def on_page_markdown(self, markdown: str, page: Page, config: MkDocsConfig, files: Files) -> str:
        """Put what was made of our notation in its place."""
        made = self.made.get(page.file.src_uri)
        return made.markdown if made else markdown

    def on_page_content(self, html: str, page: Page, config: MkDocsConfig, files: Files) -> str:
        """Give every page its last touch, and put the foot under it."""
        made = self.made.get(page.file.src_uri)
        content = bundle.content_hash(page.file.content_string)
        return polished(html) + Foot(page.file.url, content, self.model, made.checked if made else 0).html()

    def on_env(self, env: Any, config: MkDocsConfig, files: Files) -> Any:
        """Refuse the build if any page has a slip; all are said at once."""
        if self.slips.found:
            raise PluginError(self.slips.report())
        log.info(
            "%d statements checked, %d figures computed",
            sum(made.checked for made in self.made.values()),
            sum(made.figures for made in self.made.values()),
        )
        return env

    def on_post_page(self, output: str, page: Page, config: MkDocsConfig) -> str:
        """Put the panel in its place, after the search index has been made without it."""
        made = self.made.get(page.file.src_uri)
        if not made or not made.slot:
            return output
        folder = self.panels.runtime_folder
        base = get_relative_url(folder, page.file.url) if folder else ""
        return output.replace(made.slot, self.panels.slot(made.inside, base))


def _pages_in(nav: Any) -> Iterator[str]:
    """The pages of the menu in their order."""
    if isinstance(nav, str):
        yield nav
    elif isinstance(nav, list | dict):
        for entry in nav.values() if isinstance(nav, dict) else nav:
            yield from _pages_in(entry)


def _any(_: InclusionLevel) -> bool:
    """Every page, whether or not the build leaves it out."""
    return True


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
