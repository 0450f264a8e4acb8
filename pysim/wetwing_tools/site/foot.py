"""What stands at the end of every page: the caution, the revisions, and how to report an error."""

from dataclasses import dataclass
from html import escape

CAUTION = (
    "A fictional aircraft, for learning. The approved manuals of your own aircraft, your operator's "
    "procedures, local rules and licensed instruction come first."
)


@dataclass(frozen=True, slots=True)
class Foot:
    """The facts of one page's foot; `checked` counts its statements."""

    address: str
    content: str
    model: str
    checked: int

    def html(self) -> str:
        """The foot as HTML. The script puts the exact link, with the state of the panel, into the report."""
        statements = {0: "", 1: " 1 statement on this page was checked against the simulation."}.get(
            self.checked, f" {self.checked} statements on this page were checked against the simulation."
        )
        revisions = f"Content revision {self.content}, model revision {escape(self.model)}"
        report = f"Error on {self.address} (content revision {self.content}, model revision {self.model}): "
        return (
            '<aside class="ww-foot" aria-label="About this page" data-search-exclude>'
            f'<p class="ww-standing">{escape(CAUTION)}</p>'
            f'<p class="ww-revision">{revisions}.{statements}</p>'
            '<details class="ww-report"><summary>Report an error</summary>'
            "<p>Copy this text, add what is wrong, and send it to whoever looks after this site.</p>"
            f'<textarea readonly rows="3" aria-label="Text of an error report">{escape(report)}</textarea>'
            "</details></aside>"
        )
