"""Write the golden paper anew, after a change that is meant: `python -m tests.teach.exercises`."""

import json
from pathlib import Path

from wetwing.teach.exercises import Wish, make_paper
from wetwing.teach.exercises.document import paper_document

if __name__ == "__main__":
    found = paper_document(make_paper(Wish(4, "alder-165", 12)))
    text = json.dumps(found, ensure_ascii=False, indent=1)
    Path(__file__).with_name("paper-alder-165-4.json").write_text(f"{text}\n", encoding="utf-8")
