"""The inks and the type of a printed page."""

INK, SOFT, RULE = "#2b2722", "#5f574c", "#857c6b"
SHARP, FLAT = "#9c3f0c", "#1c4f86"
PAPER, WINDOW, FAINT = "#ffffff", "#f1ebdd", "#d9d0bd"
"""Inks, and the papers beneath them. Sharp and flat stay apart for colour-blind eyes and in grey;
the word or the sign stands beside them all the same. The faint ink only helps the eye along."""

TYPE = "Georgia, 'Times New Roman', 'DejaVu Serif', serif"

STYLE = f"""
@page {{ size: A4; margin: 16mm 15mm 18mm }}
* {{ box-sizing: border-box }}
body {{ font: 10.5pt/1.45 {TYPE}; color: {INK}; background: {PAPER};
  max-width: 180mm; margin: 8mm auto; padding: 0 4mm }}
header {{ border-bottom: 1.5pt solid {INK}; margin-bottom: 5mm }}
h1 {{ font-size: 19pt; font-weight: normal; line-height: 1.2; margin: 0 0 1mm }}
h2 {{ font-size: 12.5pt; font-weight: bold; margin: 7mm 0 2mm; break-after: avoid }}
p {{ margin: 0 0 2mm; max-width: 150mm }}
.facts, figcaption, footer, .small {{ color: {SOFT}; font-size: 9.5pt }}
.facts {{ margin-bottom: 3mm }}
.next {{ font-size: 12.5pt; margin: 0 0 3mm }}
figure {{ margin: 2mm 0 4mm; break-inside: avoid }}
figure svg {{ display: block; width: 100%; height: auto }}
.several figure {{ display: inline-block; width: 53mm; margin: 0 3mm 2mm 0 }}
table {{ border-collapse: collapse; margin: 2mm 0 4mm; font-variant-numeric: tabular-nums;
  font-size: 9.5pt }}
caption {{ text-align: left; color: {SOFT}; padding-bottom: 1mm; white-space: nowrap }}
thead th {{ border-bottom: .75pt solid {INK}; font-weight: normal; color: {SOFT};
  vertical-align: bottom }}
th, td {{ padding: .6mm 4mm .6mm 0; text-align: left }}
td.number, th.number {{ text-align: right }}
tbody th {{ font-weight: bold }}
tbody tr {{ border-bottom: .3pt solid {FAINT}; break-inside: avoid }}
ol.lines {{ list-style: none; margin: 0; padding: 0; break-inside: avoid }}
ol.lines li {{ border-bottom: .5pt solid {RULE}; height: 8.5mm }}
footer {{ border-top: .5pt solid {RULE}; margin-top: 8mm; padding-top: 2mm }}
@media print {{ body {{ margin: 0; padding: 0; max-width: none }} }}
"""
