"""The reference page on what has changed: the project's own list, and the model of this site."""

import re

_HEAD = re.compile(r"\A# Changes\n")


def page(changelog: str, model: str) -> str:
    """The list of changes as a page, with the revision of the model under its heading. Raises ValueError."""
    if not _HEAD.match(changelog):
        raise ValueError("the list of changes does not begin with '# Changes'")
    said = (
        f"This site was built with model revision `{model}`: the version of the simulation, and a mark that "
        "changes with every line of it and of its data. Every page names it at its foot, with a revision of "
        "its own text.\n"
    )
    return _HEAD.sub(f"# Changes\n\n{said}", changelog)
