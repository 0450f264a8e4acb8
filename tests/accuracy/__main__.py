"""Write the accuracy page: `python -m tests.accuracy`."""

from tests.accuracy.page import FILE, ROOT, page

FILE.write_text(page(), encoding="utf-8")
print(f"{FILE.relative_to(ROOT)} is written")
