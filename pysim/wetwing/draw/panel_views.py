"""The choices of how a panel is seen: which view, how close, and how its figures are written."""

from wetwing.draw.svg import Element, make

VIEWS = (("inside", "Inside"), ("gauges", "On the gauges"))
PLACES = (("whole", "whole aircraft"), ("left", "left side"), ("centre", "centre"), ("right", "right side"))
VOLUMES = ("L", "US gal")
FORMS = ("1,234.5", "1 234,5", "1.234,5")


def plan_bar() -> Element:
    """Return the choices over the wing plan: the view, and how close a look."""
    choice = make("div", class_="ww-seg")
    for name, words in VIEWS:
        button = make("input", type="radio", name="ww-view", value=name)
        if name == "inside":
            button.attributes["checked"] = ""
        choice.add(make("label", button, make("span", words)))
    return make("div", class_="ww-plan-bar ww-live").add(
        make("fieldset", class_="ww-views").add(make("legend", "View", class_="ww-hidden"), choice),
        make("label", "Look at ", _select("ww-closer", PLACES), class_="ww-look-closer"),
        make(
            "p",
            "What a crew would see: gauges, meters, switches, indications and alerts. The rest is hidden.",
            class_="ww-view-words of-gauges",
        ),
    )


def writing() -> Element:
    """Return the choice of the unit of volumes and of the form of numbers, folded away."""
    volumes = make("label", "Volumes ", _select("ww-volumes", [(each, each) for each in VOLUMES]))
    form = make("label", "Numbers ", _select("ww-form", [(each, each) for each in FORMS]))
    return make("details", class_="ww-writing ww-live").add(
        make("summary", "Figures"), make("div", volumes, form, class_="ww-writing-choices")
    )


def _select(name: str, choices: list[tuple[str, str]] | tuple[tuple[str, str], ...]) -> Element:
    select = make("select", class_=name)
    for value, words in choices:
        select.add(make("option", words, value=value))
    return select
