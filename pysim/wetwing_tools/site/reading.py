"""How long and how hard a page is to read: minutes, and a grade by a published formula.

Minutes are words over 180, one more for each guided moment, one and a half for each question, and five for
each worksheet: to read what it gives, and to try some other figures. The words of a question and of a sheet
are part of its time and are not counted again. Each question of a recorded paper of exercises is a question.

The grade is the Automated Readability Index: 4.71 · characters/words + 0.5 · words/sentences − 21.43 (E. A.
Smith and R. J. Senter, "Automated readability index", AMRL-TR-66-220, 1967): about the years of school that
a reader needs. It counts letters and digits, so that no list of syllables is needed.
"""

import re
from collections.abc import Iterable, Mapping, Sequence

from wetwing.aircraft.mistakes import Mistake
from wetwing.teach.words import number
from wetwing_tools.site.slips import Slips
from wetwing_tools.site.statements import in_course
from wetwing_tools.site.survey import Survey

WORDS_A_MINUTE = 180.0
MOMENT_MIN = 1.0
QUESTION_MIN = 1.5
WORKSHEET_MIN = 5.0
MOST_MIN = 20.0
LEAST_WORDS = 100
"""Below this a grade says nothing."""

_WORD = re.compile(r"[^\W_]+(?:['’.,-][^\W_]+)*")
_SENTENCE_END = re.compile(r"[.!?](?:\s|$)|\n\s*\n|\n[-*] ")


def words_of(text: str) -> list[str]:
    """The words of a text that is already without notation."""
    return _WORD.findall(text)


def minutes(survey: Survey) -> float:
    """How long a page takes, with its moments, questions and worksheets."""
    words = sum(len(words_of(text)) for text in survey.texts)
    done = MOMENT_MIN * len(survey.moments) + WORKSHEET_MIN * survey.worksheets
    return words / WORDS_A_MINUTE + done + QUESTION_MIN * questions(survey)


def questions(survey: Survey) -> int:
    """How many questions a page asks, those of its recorded paper of exercises among them."""
    return len(survey.questions) + survey.exercises


def grade(texts: Iterable[str]) -> float | None:
    """The Automated Readability Index of running text, or None where there is too little of it."""
    words, sentences = list[str](), 0
    for text in texts:
        running = "\n".join(line for line in text.split("\n") if not line.lstrip().startswith(("#", "|")))
        # A piece without a stop, such as an item of a list, is a sentence all the same.
        pieces = [piece for piece in _SENTENCE_END.split(running) if words_of(piece)]
        sentences += len(pieces)
        words += [word for piece in pieces for word in words_of(piece)]
    if len(words) < LEAST_WORDS:
        return None
    characters = sum(sum(letter.isalnum() for letter in word) for word in words)
    return 4.71 * characters / len(words) + 0.5 * len(words) / sentences - 21.43


def check_page(survey: Survey, slips: Slips) -> None:
    """A page must be done in one sitting."""
    taken = minutes(survey)
    if taken <= MOST_MIN:
        return
    found = f"this page takes {number(taken, 0.1)} minutes"
    allowed = f"{MOST_MIN:g} minutes or less: cut it, or move a part to a page of its own"
    slips.mistake(survey.page, 1, Mistake(f"{survey.page}:1", found, allowed))


_HEAD = f"""# The pages in figures

Each page that somebody wrote, with what it asks of its reader and how much of it is checked. Pages that the
build makes stand at the end.

- **Minutes**: words at {WORDS_A_MINUTE:g} a minute, {MOMENT_MIN:g} minute for each guided moment,
  {QUESTION_MIN:g} for each question with its words, and {WORKSHEET_MIN:g} for each worksheet. The
  build refuses a page of more than {MOST_MIN:g} minutes.
- **Grade**: the Automated Readability Index, 4.71 · characters/words + 0.5 · words/sentences − 21.43 (E. A.
  Smith and R. J. Senter, *Automated readability index*, AMRL-TR-66-220, 1967): about the years of school that
  a reader needs. A page of less than {LEAST_WORDS} words of running text has none.
- **Checked**: of the sentences that say what the system does, those that are checked or hold a figure that is
  computed.
- **Figures**: figures that are computed when the site is built.
- **Questions**: those of the page, and each question of its recorded paper of exercises.
- **Sheets**: worksheets to work with.
"""

_MADE = """## Made when the site is built

Pages made from the data, the code and the other pages. They are looked up, not read through: minutes are words
alone.
"""

_WORDS = """## Words

Where each term of the [glossary](glossary.md) is used first, in the order of the menu. The build refuses a
page of the course with a trade term that the glossary does not have: what a part of the fleet is called, less
the words that say where it is, and every state that a part can show.
"""


def page(
    surveys: Sequence[Survey], words: Mapping[str, Survey | None], made: Sequence[Survey] = ()
) -> str:
    """The tables in Markdown, by folder; `words` gives each term of the glossary its first page, `made` are
    the pages that the build makes.
    """
    parts = [_HEAD]
    for folder in sorted({_folder(one) for one in surveys}):
        own = [one for one in surveys if _folder(one) == folder]
        parts += [f"## {folder.capitalize() or 'First pages'}\n", _table(own)]
    if made:
        parts += [_MADE, _made(made)]
    return "\n".join([*parts, _WORDS, _words(words)])


def _made(surveys: Sequence[Survey]) -> str:
    rows = ["| Page | Minutes | Words | Grade |", "| --- | --- | --- | --- |"]
    for one in surveys:
        words = sum(len(words_of(text)) for text in one.texts)
        found = grade(one.texts)
        cells = (
            f"[{one.title}](../{one.page})",
            number(words / WORDS_A_MINUTE, 0.1),
            f"{words:,}",
            "–" if found is None else number(found, 0.1),
        )
        rows.append(f"| {' | '.join(cells)} |")
    return "\n".join([*rows, ""])


def _words(words: Mapping[str, Survey | None]) -> str:
    rows = [f"| {term} | {f'[{one.title}](../{one.page})' if one else '–'} |" for term, one in words.items()]
    return "\n".join(["| Term | First page that uses it |", "| --- | --- |", *rows, ""])


def _folder(survey: Survey) -> str:
    return survey.page.partition("/")[0] if "/" in survey.page else ""


def _table(surveys: Sequence[Survey]) -> str:
    heads = (
        "Page",
        "Minutes",
        "Words",
        "Grade",
        "Checked",
        "Figures",
        "Moments",
        "Questions",
        "Sheets",
        "Objectives",
    )
    rows = [f"| {' | '.join(heads)} |", f"|{' --- |' * len(heads)}", *(_cells(one) for one in surveys)]
    if len(surveys) > 1:
        rows.append(_total(surveys))
    return "\n".join([*rows, ""])


def _cells(one: Survey) -> str:
    found = grade(one.texts)
    cells = (
        f"[{one.title}](../{one.page})",
        number(minutes(one), 0.1),
        f"{sum(len(words_of(text)) for text in one.texts):,}",
        "–" if found is None else number(found, 0.1),
        _checked([one]),
        str(one.figures),
        str(len(one.moments)),
        str(questions(one)),
        str(one.worksheets),
        str(len(one.front.listed)),
    )
    return f"| {' | '.join(cells)} |"


def _checked(surveys: Sequence[Survey]) -> str:
    """How many statements are checked, on pages whose sentences say what the system does."""
    said = [checked for one in surveys if in_course(one.page) for checked in one.said]
    return f"{sum(said)} of {len(said)}" if said else "–"


def _total(surveys: Sequence[Survey]) -> str:
    cells = (
        "**Together**",
        number(sum(minutes(one) for one in surveys), 0.1),
        f"{sum(len(words_of(text)) for one in surveys for text in one.texts):,}",
        "",
        _checked(surveys),
        str(sum(one.figures for one in surveys)),
        str(sum(len(one.moments) for one in surveys)),
        str(sum(questions(one) for one in surveys)),
        str(sum(one.worksheets for one in surveys)),
        "",
    )
    return f"| {' | '.join(cells)} |"
