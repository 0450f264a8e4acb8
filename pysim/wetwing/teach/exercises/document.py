"""A paper as plain data, for JSON: what the page's worker answers, and what tests hold a paper to."""

from wetwing.teach.exercises.misconceptions import MISCONCEPTIONS
from wetwing.teach.exercises.records import Evidence, Paper, Question

FORMAT = "wetwing-paper/1"


def paper_document(paper: Paper) -> dict[str, object]:
    """The whole paper; quantities in its texts stand as marks, `{430 kg}`."""
    return {
        "format": FORMAT,
        "seed": paper.seed,
        "aircraft": paper.aircraft,
        "flight": paper.flight,
        "left_out": list(paper.left_out),
        "questions": [question_document(question) for question in paper.questions],
    }


def question_document(question: Question) -> dict[str, object]:
    """One question with its answer."""
    found: dict[str, object] = {
        "name": question.name,
        "kind": question.kind,
        "form": question.form,
        "objectives": list(question.objectives),
        "ask": question.ask,
        "because": question.because,
        "evidence": question.evidence.address(),
    }
    if question.given:
        found["given"] = [list(question.given.head), *(list(row) for row in question.given.rows)]
    if question.options:
        found["options"] = [
            {
                "words": option.words,
                "right": option.right,
                "because": option.because,
                "evidence": option.evidence.address(),
                **_belief(option.misconception),
            }
            for option in question.options
        ]
    if question.items:
        found["items"] = [
            {"words": item.words, "because": item.because, **_time(item.evidence)} for item in question.items
        ]
        found["shown"] = list(question.shown)
    if question.number:
        number = question.number
        found["number"] = {
            "amount": number.amount,
            "unit": number.unit,
            "tolerance": number.tolerance,
            "slips": [{"amount": slip.amount, **_belief(slip.misconception)} for slip in number.slips],
        }
    return found


def _belief(name: str | None) -> dict[str, str]:
    return {} if name is None else {"misconception": name, "believes": MISCONCEPTIONS[name].believes}


def _time(evidence: Evidence) -> dict[str, object]:
    return {"time_s": evidence.time_s, "evidence": evidence.address()}
