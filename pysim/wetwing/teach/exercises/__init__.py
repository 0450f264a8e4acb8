"""The exercise bank: questions made by the simulation from a seed, with answers, reasons and evidence."""

from wetwing.teach.exercises.misconceptions import MISCONCEPTIONS, Misconception
from wetwing.teach.exercises.objectives import objectives_served
from wetwing.teach.exercises.paper import KINDS, Wish, make_paper
from wetwing.teach.exercises.records import Evidence, Paper, Question
from wetwing.teach.exercises.stock import SCRIPTS, Stock

__all__ = [
    "KINDS",
    "MISCONCEPTIONS",
    "SCRIPTS",
    "Evidence",
    "Misconception",
    "Paper",
    "Question",
    "Stock",
    "Wish",
    "make_paper",
    "objectives_served",
]
