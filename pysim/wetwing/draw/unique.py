"""Two panels on one page: every name that a page may hold once is made the panel's own."""

import re

from wetwing.draw.svg import Element

# Attributes that hold one id, or several with blanks between.
_REFERENCES = (
    "for",
    "aria-labelledby",
    "aria-describedby",
    "aria-controls",
    "aria-details",
    "aria-owns",
    "list",
)
_PAINTS = re.compile(r"url\(#([^)]+)\)")


def names_apart(root: Element, suffix: str) -> Element:
    """Give every id, every reference to one, and every group of radio buttons under `root` a suffix.

    A card of one panel is a region of the page. With two panels the frames alone are regions, for two regions
    of one name would lead nowhere.
    """
    for element in root.walk():
        own = element.attributes
        if "id" in own:
            own["id"] += suffix
        if element.tag == "input" and own.get("type") == "radio":
            own["name"] += suffix
        for name in _REFERENCES:
            if name in own:
                own[name] = " ".join(each + suffix for each in own[name].split())
        for name in ("href", "xlink:href"):
            if own.get(name, "").startswith("#"):
                own[name] += suffix
        for name, value in own.items():
            if "url(#" in value:
                own[name] = _PAINTS.sub(lambda found: f"url(#{found[1]}{suffix})", value)
        if element.tag == "section" and "ww-frame" not in own.get("class", ""):
            element.tag = "div"
            own["role"] = "group"
    return root
