"""The last touch to a page: what stays on one line, and tables that a phone can stack."""

import pytest

from wetwing_tools.site.polish import polished


@pytest.mark.parametrize(
    ("html", "kept"),
    [
        ("<p>It holds 6,480 kg now.</p>", "<p>It holds 6,480\u00a0kg now.</p>"),
        ("<p>430 kg/h at −47 °C, 3 %</p>", "<p>430\u00a0kg/h at −47\u00a0°C, 3\u00a0%</p>"),
        ("<p>Two tanks, 5 kgs, 3 tanks</p>", "<p>Two tanks, 5 kgs, 3 tanks</p>"),
        ("<pre><code>6480 kg\n</code></pre>", "<pre><code>6480 kg\n</code></pre>"),
        ("<code>900 kg</code>", '<code class="ww-whole">900 kg</code>'),
        (f"<code>{'long-name-' * 4}</code>", f"<code>{'long-name-' * 4}</code>"),
        ("<p>See F-CRZ-1.</p>", '<p>See <span class="ww-whole">F-CRZ-1</span>.</p>'),
        ("<td>F-SYS-VLV-4</td>", '<td><span class="ww-whole">F-SYS-VLV-4</span></td>'),
        ('<a href="#f-crz-1" title="9 kg">x</a>', '<a href="#f-crz-1" title="9 kg">x</a>'),
    ],
)
def test_what_belongs_together_stays_on_one_line(html: str, kept: str) -> None:
    assert polished(html) == kept


def table(columns: int, cell: str = "x") -> str:
    heads = "".join(f"<th>H <b>{i}</b></th>\n" for i in range(columns))
    cells = "".join(f'<td style="text-align: right;">{cell}</td>\n' for _ in range(columns))
    return f"<table>\n<thead>\n<tr>\n{heads}</tr>\n</thead>\n<tbody>\n<tr>\n{cells}</tr>\n</tbody>\n</table>"


def test_a_table_of_many_columns_can_be_stacked_and_says_what_it_is() -> None:
    html = polished(table(4))
    assert '<table role="table" data-stack="usual">' in html
    assert html.count('role="row"') == 2
    assert html.count('role="columnheader"') == 4
    assert '<td role="cell" data-head="H 2" style="text-align: right;">x</td>' in html
    assert 'data-stack="wide"' in polished(table(7))


def test_a_table_of_few_columns_and_one_with_a_class_stay_as_they_are() -> None:
    assert polished(table(3)) == table(3)
    marked = table(5).replace("<table>", '<table class="ww-own">')
    assert polished(marked) == marked
