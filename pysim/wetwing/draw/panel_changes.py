"""The places of a reader's own changes: the lane of handles under the flight line, and the card that lists
them."""

from wetwing.draw.svg import Element, make


def lane() -> Element:
    """Return the lane: the script fills it with a handle for each change and all that the crew does."""
    return make("div", class_="ww-lane ww-live", role="group", aria_label="Changes along the flight line")


def changes_card() -> Element:
    """Return the card of the reader's changes, with room for the form that makes one and for kept flights."""
    return make("section", class_="ww-card ww-edits-card ww-live", aria_labelledby="ww-edits-title").add(
        make("div", class_="ww-edits-head").add(
            make("p", "Your changes", class_="ww-card-title", id="ww-edits-title"),
            make("p", class_="ww-edit-row").add(
                make("button", "Undo", type="button", class_="ww-undo", aria_keyshortcuts="Control+Z"),
                make("button", "Redo", type="button", class_="ww-redo", aria_keyshortcuts="Control+Shift+Z"),
                make("button", "Back to the recorded flight", type="button", class_="ww-clear", hidden=""),
                make("button", "Change something else…", type="button", class_="ww-change"),
            ),
        ),
        make("p", class_="ww-no-edits"),
        make("p", class_="ww-differs", hidden=""),
        make("p", class_="ww-ended", hidden=""),
        make("ol", class_="ww-edits"),
        make("div", class_="ww-change-place"),
        make("div", class_="ww-kept"),
    )
