"""A revision: a file that gives only what differs from the aircraft that it is based on."""

from functools import partial

from tests.aircraft.files import alder_text, changed, mistake_of, says
from wetwing.aircraft.mistakes import unknown
from wetwing.aircraft.model import Aircraft
from wetwing.aircraft.read import FORMAT, parse_aircraft, parse_toml, read_aircraft
from wetwing.aircraft.table import Table

HEAD = 'format = "wetwing-aircraft/1"\nname = "{}"\nbased_on = "{}"\n'


def revised(text: str) -> Aircraft:
    return parse_aircraft(HEAD.format("alder-165-b", "alder-165") + text, "b.toml")


def test_a_revision_without_a_difference_is_its_base_by_another_name() -> None:
    base, found = read_aircraft("alder-165"), revised("")
    assert found.name == "alder-165-b"
    assert found.title == base.title
    assert found.parts == base.parts
    assert (found.limits, found.airframe, found.balance, found.plan) == (
        *(base.limits, base.airframe, base.balance, base.plan),
    )


def test_a_difference_is_laid_over_key_by_key() -> None:
    base = read_aircraft("alder-165")
    found = revised(
        'revision = "B"\n[tanks.centre]\nunusable_kg = 12\n[sensors.high-level-centre]\nwet_at_l = 9300\n'
    )
    assert found.revision == "B"
    assert [tank.unusable_kg for tank in found.tanks] == [4.0, 18.0, 12.0, 18.0, 4.0]
    assert found.tanks[2].capacity_l == base.tanks[2].capacity_l
    assert [part for part in found.parts if found.parts[part] != base.parts[part]] == [
        "centre",
        "high-level-centre",
    ]


def test_a_revision_is_what_the_whole_file_with_its_changes_is() -> None:
    text = changed(
        alder_text(), ('name = "alder-165"', 'name = "alder-165-b"'), ("heat_kw = 20", "heat_kw = 24")
    )
    assert revised("[returns.return-left]\nheat_kw = 24\n") == parse_aircraft(text, "b.toml")


def test_what_is_removed_is_gone_and_can_be_given_anew() -> None:
    found = revised('remove = ["alerts.leak", "tanks.outboard-left.neighbours"]\n')
    assert "leak" not in found.parts
    assert found.tanks[0].neighbours == ()
    anew = '[alerts.leak]\nlevel = "warning"\ntext = "Leak"\nwhen = "slats is out"\n'
    assert revised(f'remove = ["alerts.leak"]\n{anew}').parts["leak"].label == "Leak"


def test_slips_of_a_revision() -> None:
    for text, message in (
        (
            'remove = ["rules.slat-hlod"]\n',
            "remove: unknown entry 'rules.slat-hlod'; allowed: …; nearest: rules.slat-hold",
        ),
        ("remove = 3\n", "remove: found 3; allowed: a list in square brackets"),
        ('remove = ["rules.slat-hold"]\n', "centre-left.runs_when: unknown part 'slat-hold'; allowed: …"),
        (
            "[tanks.centre]\ncapacity_l = 0\n",
            "tanks.centre.capacity_l: 0 L; allowed: 1 to 1e+06 L; nearest: 1 L",
        ),
        ("[tanks.centre]\nvolume_l = 5\n", "tanks.centre: unknown key 'volume_l'; allowed: …"),
        ("[balances]\nmac_m = 5\n", "unknown key 'balances'; allowed: …; nearest: balance"),
    ):
        assert says(mistake_of(partial(revised, text)), f"b.toml: {message}")


def test_a_base_that_is_not_there() -> None:
    text = HEAD.format("alder-165-b", "alder-156")
    assert says(
        mistake_of(lambda: parse_aircraft(text, "b.toml")),
        "b.toml: based_on: unknown aircraft 'alder-156'; allowed: …; nearest: alder-165",
    )


def test_files_based_on_each_other() -> None:
    texts = {
        "one": HEAD.format("one", "two"),
        "two": HEAD.format("two", "three"),
        "three": HEAD.format("three", "two"),
        "self": HEAD.format("self", "self"),
    }

    def fetch(name: str, place: str) -> Table:
        if name not in texts:
            raise unknown(place, "aircraft", name, texts)
        return parse_toml(texts[name], f"{name}.toml", FORMAT)

    for start, message in (
        ("one", "three.toml: based_on: a circle: two → three → two"),
        ("self", "self.toml: based_on: a circle: self → self"),
    ):
        assert says(
            mistake_of(partial(parse_aircraft, texts[start], f"{start}.toml", fetch)),
            f"{message}; allowed: a chain that ends at a whole aircraft",
        )
