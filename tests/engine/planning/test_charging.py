"""A house battery in a van: a charger comes between, and a booster stands behind the battery, not behind the van."""

from typing import Any

import pytest

VAN = """
use = "mobile"
[wishes]
hours = "3 h"
[[load]]
id = "hf"
class = "hf-100w"
window = "13.8 V ± 15 %"
keyed = "25 %"
[[source]]
id = "van"
class = "vehicle"
part = "van"
[[source]]
id = "house"
class = "battery"
chemistry = "{chemistry}"
charged_by = "van"
{more}
[[run]]
id = "lead"
from = "house"
to = "hf"
length = "3 m"
"""


@pytest.mark.parametrize("chemistry", ["agm", "lfp"])
def test_a_van_charges_its_house_battery_through_a_charger(bench: Any, chemistry: str) -> None:
    """An alternator alone neither finishes a charge nor stops one (common practice); the charger is bought and told."""
    plan = bench.plan(VAN.format(chemistry=chemistry, more=""))
    assert plan.complete and plan.verdict.outcome != "unsound"
    (house,) = (source for source in plan.verdict.station.sources if source.id == "house")
    assert house.charger == "alternator-20"
    assert any(choice.about == "house.charger" for choice in plan.verdict.choices)
    assert any("charger" in item.what for item in plan.verdict.items)
    assert {run.start for run in plan.verdict.station.runs if run.end == "hf"} <= {"house", "booster"}


def test_what_hangs_there_today_is_judged_and_not_rewired(bench: Any) -> None:
    """An owned battery straight on the alternator is the owner's own arrangement: nothing is put before it unasked."""
    plan = bench.plan(VAN.format(chemistry="agm", more='part = "agm-100ah"\nowned = true'))
    (house,) = (source for source in plan.verdict.station.sources if source.id == "house")
    assert house.charger is None
