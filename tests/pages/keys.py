"""A keyboard alone: from stop to stop by Tab, each of them seen, until what is wanted has the focus."""

from pathlib import Path

from playwright.sync_api import Locator, Page, TimeoutError

MOST_STOPS = 220
"""More than the stops between any two things of a page that a test goes through."""

# What is wrong with the place where the keyboard stands, or nothing. A choice of few is drawn by its words.
STOP = """() => {
  const own = document.activeElement;
  if (!own || own === document.body) return 'the keyboard stands nowhere';
  // The link past the head is there only while it has the focus.
  if (own.matches('.md-skip')) return '';
  const drawn = own.matches('.ww-seg input, .md-option') ? own.nextElementSibling : own;
  const name = `${own.tagName} ${own.getAttribute('aria-label') ?? own.textContent.trim().slice(0, 40)}`;
  const { outlineStyle, outlineWidth, boxShadow, borderTopWidth } = getComputedStyle(drawn);
  if (!(outlineStyle !== 'none' && parseFloat(outlineWidth) >= 1) && boxShadow === 'none')
    return `${name}: its focus is not drawn`;
  if (!own.checkVisibility({ visibilityProperty: true })) return `${name}: it is not shown`;
  const { left, right, top, bottom } = drawn.getBoundingClientRect();
  const header = own.closest('dialog, .md-header, .ww-handout') ? 0 : document.querySelector('.md-header')?.getBoundingClientRect().bottom ?? 0;
  if (right <= 0 || left >= innerWidth || bottom <= header || top >= innerHeight) return `${name}: it is off the screen, ${Math.round(top)} to ${Math.round(bottom)}`;
  return '';
}"""  # noqa: E501


class Keys:
    """A keyboard and nothing else."""

    def __init__(self, page: Page) -> None:
        self.page = page

    def press(self, *names: str) -> None:
        """Press keys, one after another."""
        for name in names:
            self.page.keyboard.press(name)

    def type(self, text: str) -> None:
        """Write over what stands in the field."""
        self.page.keyboard.press("ControlOrMeta+a")
        self.page.keyboard.type(text)

    def stands(self) -> None:
        """The keyboard stands on something, and it is seen where."""
        problem = self.page.evaluate(STOP)
        assert not problem, problem

    def to(self, target: Locator, *, back: bool = False) -> None:
        """Go on by Tab, or back by Shift and Tab, until something has the focus; each stop is seen."""
        way = "Shift+Tab" if back else "Tab"
        for _ in range(MOST_STOPS):
            if target.evaluate("(own) => own === document.activeElement"):
                self.stands()
                return
            self.page.keyboard.press(way)
            problem = self.page.evaluate(STOP)
            # After the last stop of a page comes the browser's own bar.
            assert not problem or problem.endswith("nowhere"), problem
        raise AssertionError(f"{target} was not reached in {MOST_STOPS} stops")

    def enter(self, target: Locator, *, back: bool = False) -> None:
        """Go there and press Enter."""
        self.to(target, back=back)
        self.press("Enter")

    def give_file(self, field: Locator, path: Path, *, back: bool = False) -> None:
        """Go to a field for a file, press Space, and choose a file where the browser asks for one."""
        # Before a key is pressed: a browser with much to do hears late that it is to ask us.
        self.page.on("filechooser", lambda _: None)
        self.to(field, back=back)
        try:
            with self.page.expect_file_chooser() as asked:
                self.press("Space")
        except TimeoutError as fault:
            stands = self.page.evaluate("() => document.activeElement.outerHTML.slice(0, 200)")
            raise AssertionError(f"no file was asked for; the keyboard stands on {stands}") from fault
        asked.value.set_files(path)

    def choose(self, select: Locator, value: str) -> None:
        """Go to a list and move in it until a value is chosen."""
        self.to(select)
        if select.input_value() == value:
            return
        self.press("Home")
        for _ in range(select.locator("option").count()):
            if select.input_value() == value:
                self.stands()
                return
            self.press("ArrowDown")
        raise AssertionError(f"{value} is not in {select}")

    def turn(self, block: Locator, value: str) -> None:
        """Go to a choice of few and turn it with the arrow keys."""
        checked = block.locator("input:checked")
        self.to(checked if checked.count() else block.locator("input").first)
        if not checked.count():
            self.press("Space")
        for _ in range(block.locator("input").count()):
            if checked.get_attribute("value") == value:
                self.stands()
                return
            self.press("ArrowRight")
        raise AssertionError(f"{value} is not in {block}")
