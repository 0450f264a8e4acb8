"""What is wrong on the pages, gathered so that an author sees every slip of a build at once."""

from dataclasses import dataclass, field

from wetwing.aircraft.mistakes import Mistake


@dataclass(frozen=True, slots=True, order=True)
class Slip:
    """One thing to mend: the page's path within the docs folder, the line of its source, and the message."""

    page: str
    line: int
    message: str

    def __str__(self) -> str:
        return f"{self.page}:{self.line}: {self.message}"


@dataclass
class Slips:
    """All slips of one build."""

    found: list[Slip] = field(default_factory=list)

    def add(self, page: str, line: int, message: str) -> None:
        """Note a slip."""
        self.found.append(Slip(page, line, message))

    def mistake(self, page: str, line: int, mistake: Mistake) -> None:
        """Note a mistake; its own place is left out where it says no more than page and line."""
        message = str(mistake)
        prefix = f"{page}:{line}: "
        self.add(page, line, message.removeprefix(prefix))

    def report(self) -> str:
        """Say every slip, in the order of pages and lines."""
        count = len(self.found)
        head = "1 slip on the pages" if count == 1 else f"{count} slips on the pages"
        return "\n".join([f"{head}:", *(f"  {slip}" for slip in sorted(set(self.found)))])
