"""What differs between two aircraft: figures, rules, alerts, and what a crew sees of it and when."""

from wetwing.teach.differences.alike import alike
from wetwing.teach.differences.figures import Row
from wetwing.teach.differences.logic import Told
from wetwing.teach.differences.pair import Pair, Trial, compare
from wetwing.teach.differences.phases import HEADS, Stage
from wetwing.teach.differences.seen import Sight, Sights, seen

__all__ = ["HEADS", "Pair", "Row", "Sight", "Sights", "Stage", "Told", "Trial", "alike", "compare", "seen"]
