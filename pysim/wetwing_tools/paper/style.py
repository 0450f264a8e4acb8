"""The style of printed exercises: A4, black on white, page numbers where the browser can write them."""

STYLE = """
@page { size: A4; margin: 18mm 16mm 20mm;
  @bottom-left { content: "%(foot)s"; font: 8.5pt sans-serif; }
  @bottom-right { content: "Page " counter(page) " of " counter(pages); font: 8.5pt sans-serif; } }
:root { color-scheme: light; }
body { margin: 0 auto; max-width: 178mm; color: #000; background: #fff; font: 10.5pt/1.38 "Liberation Sans",
  Arial, "Helvetica Neue", sans-serif; }
header { border-bottom: 1.5pt solid #000; margin-bottom: 5mm; padding-bottom: 3mm; }
h1 { font-size: 17pt; margin: 0 0 1mm; }
header p { margin: 0.6mm 0; }
.who { display: flex; gap: 8mm; margin-top: 4mm; }
.who span { flex: 1; border-bottom: 0.6pt solid #000; padding-bottom: 0.5mm; }
.who span + span { flex: 0 0 50mm; }
.caution { border: 0.8pt solid #000; padding: 1.5mm 2.5mm; margin: 3mm 0 0; font-size: 9pt; }
section { break-inside: avoid; margin: 0 0 6.5mm; }
h2 { font-size: 10.5pt; margin: 0 0 1.5mm; font-weight: 600; }
h2 .points { font-weight: 400; font-size: 9pt; }
table { border-collapse: collapse; margin: 1.5mm 0 2.5mm; font-size: 9.5pt; }
th, td { border: 0.5pt solid #777; padding: 0.7mm 2mm; text-align: left; vertical-align: top; }
thead th { border-bottom: 1pt solid #000; }
tbody th { font-weight: 500; }
ol.choose, ol.order { list-style: none; margin: 0; padding: 0; }
ol.choose li, ol.order li { display: flex; gap: 2.5mm; margin: 1.1mm 0; }
.box { flex: none; width: 3.6mm; height: 3.6mm; border: 0.9pt solid #000; margin-top: 0.5mm; }
ol.order .box { width: 7mm; height: 5mm; margin-top: 0; }
.line { border-bottom: 0.6pt solid #000; height: 7mm; }
.answer { display: inline-block; border-bottom: 0.6pt solid #000; min-width: 40mm; }
.key { break-inside: auto; }
.key h2, .key li { break-inside: avoid; }
.key h2 { break-after: avoid; }
.right { font-weight: 600; }
.key p, .key ul, .key ol { margin: 0.8mm 0; }
.key li { margin: 0.9mm 0; }
.link { font-size: 7.5pt; overflow-wrap: anywhere; color: #000; }
.belief { font-style: italic; }
@media screen { body { padding: 10mm 6mm; } }
"""


def style(foot: str) -> str:
    """The style sheet, with the text at the foot of each page."""
    safe = foot.replace("\\", "").replace('"', "'")
    return STYLE % {"foot": safe}
