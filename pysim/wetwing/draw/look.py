"""The look of pictures: one style for stills and for the page. Colours are custom properties with a fallback,
so a page sets them.

Every state has a shape; colour only agrees with it. Red and amber are left to alerts.
"""

BASE_STYLE = """
.ww-picture{font-family:var(--ww-font,"Segoe UI","Helvetica Neue",Roboto,"Noto Sans","Liberation Sans",
Arial,sans-serif);
font-variant-numeric:tabular-nums;color:var(--ww-ink,#1b2632);overflow:hidden;display:block}
.ww-picture text{fill:var(--ww-ink,#1b2632);stroke:var(--ww-paper,#fbfaf6);stroke-width:3.2px;
stroke-linejoin:round;paint-order:stroke}
.ww-picture .quiet,.ww-picture .quiet tspan,.ww-picture .unit{fill:var(--ww-quiet,#505c68)}
.ww-picture .small{font-size:.62em;font-weight:400}
.ww-picture .state{font-weight:600}
.ww-picture .strong{font-weight:600}
[data-view="gauges"] .of-inside,.ww-picture:not([data-view="gauges"] *,[data-view="gauges"]) .of-gauges{
display:none}
.ww-picture .warm,.ww-picture .warm tspan:not(.quiet){fill:var(--ww-warm-ink,#6d3f98)}
""".strip()

PLAN_STYLE = """
.ww-plan .wing{fill:var(--ww-wing,#f1f2ef);stroke:var(--ww-edge,#c9ced3);stroke-width:1.3;
stroke-linejoin:round}
.ww-plan .plate{fill:var(--ww-paper,#fbfaf6);fill-opacity:.9}
.ww-plan .hull-edge{stop-color:var(--ww-hull,#e6eaed)}
.ww-plan .hull-crown{stop-color:var(--ww-hull-crown,#f4f6f7)}
.ww-plan .lip{fill:none;stroke:var(--ww-edge,#c9ced3);stroke-width:1.2}
.ww-plan .fuselage{stroke:var(--ww-edge,#c9ced3);stroke-width:1.3}
.ww-plan .nacelle{fill:var(--ww-nacelle,#fff);stroke:var(--ww-edge-strong,#79838e);stroke-width:1.4}
.ww-plan .movable{fill:none;stroke:var(--ww-edge-strong,#79838e);stroke-width:2.6;stroke-linecap:round}
.ww-plan .room{fill:var(--ww-room,#fdfdfc)}
.ww-plan .fuel-deep{stop-color:var(--ww-fuel-deep,#a3cbe4)}
.ww-plan .fuel-thin{stop-color:var(--ww-fuel-thin,#d3e7f3)}
.ww-plan .shell{fill:none;stroke:var(--ww-shell,#35769e);stroke-width:1.6;stroke-linejoin:round}
.ww-plan .rest{fill:none;stroke:var(--ww-rest,#848e98);stroke-width:1.3;stroke-linecap:round}
.ww-plan .rest.refuel,.ww-plan .rest.return{stroke-width:1.2;stroke-opacity:.55}
.ww-plan .rest.return{stroke-dasharray:.1 5}
.ww-plan .flow path{fill:none;stroke:var(--ww-feed,#0b6aa6);stroke-linecap:round}
.ww-plan .flow.refuel path{stroke:var(--ww-feed,#0b6aa6)}
.ww-plan .flow.return path{stroke:var(--ww-warm,#7a4fa3);stroke-dasharray:.1 7}
.ww-plan .flow.one-way path[data-back]{stroke:var(--ww-ink,#1b2632);stroke-dasharray:7 6;
stroke-linecap:butt}
.ww-plan .flow .way{stroke:var(--ww-on-feed,#fff);stroke-width:1.6;stroke-linejoin:round}
.ww-plan .spill{fill:none;stroke:var(--ww-feed,#0b6aa6);stroke-width:3;stroke-dasharray:1 6;
stroke-linecap:round}
.ww-plan .leader{fill:none;stroke:var(--ww-leader,#98a1aa);stroke-width:.9}
.ww-plan .shape{display:none}
.ww-plan .hit{fill:none;stroke:transparent;stroke-width:14;pointer-events:stroke}
.ww-plan .part path,.ww-plan .part circle{vector-effect:none}
.ww-plan .pump .rim,.ww-plan .supply .rim{fill:var(--ww-symbol,#fff);stroke:var(--ww-off,#66717c);
stroke-width:1.5}
.ww-plan .blades,.ww-plan .bars,.ww-plan .cross,.ww-plan .dash{fill:none;stroke:var(--ww-off,#66717c);
stroke-width:1.7;stroke-linecap:round}
.ww-plan .pump .drop{fill:var(--ww-off,#66717c)}
.ww-plan .pump[data-now="delivering"] .rim{fill:var(--ww-feed,#0b6aa6);stroke:var(--ww-feed,#0b6aa6)}
.ww-plan .pump[data-now="delivering"] .blades{display:inline;stroke:var(--ww-on-feed,#fff)}
.ww-plan .pump[data-now="on"] .rim{stroke:var(--ww-ink,#1b2632)}
.ww-plan .pump[data-now="on"] .blades{display:inline;stroke:var(--ww-ink,#1b2632)}
.ww-plan .pump[data-now="running, held back"] .rim{stroke:var(--ww-feed,#0b6aa6)}
.ww-plan .pump[data-now="running, held back"] .blades{display:inline;stroke:var(--ww-feed,#0b6aa6)}
.ww-plan .pump[data-now="running, nothing drawn"] .rim{stroke:var(--ww-feed,#0b6aa6)}
.ww-plan .pump[data-now="running, nothing drawn"] .blades{display:inline;stroke:var(--ww-feed,#0b6aa6);
stroke-dasharray:1.6 2.4}
.ww-plan .pump[data-now="stopped by automatics"] .bars{display:inline}
.ww-plan .pump[data-now="dry"] .rim{stroke-dasharray:2.6 2.2}
.ww-plan .pump[data-now="dry"] .drop{display:inline}
.ww-plan .pump[data-now="failed"] .cross{display:inline;stroke:var(--ww-ink,#1b2632);stroke-width:2.2}
.ww-plan .pump[data-now="failed"] .rim{stroke:var(--ww-ink,#1b2632)}
.ww-plan .pump[data-now="off"] .dash{display:inline}
.ww-plan .slash,.ww-plan .back{fill:none;stroke:var(--ww-ink,#1b2632);stroke-width:2;stroke-linecap:round;
stroke-linejoin:round}
.ww-plan .pump[data-now="no power"] .slash{display:inline}
.ww-plan .pump[data-now="no power"] .rim{stroke-dasharray:6 3}
.ww-plan .pump[data-now="flowing back"] .back{display:inline}
.ww-plan .pump[data-now="flowing back"] .rim{stroke:var(--ww-ink,#1b2632);stroke-width:2}
.ww-plan .flap-shut,.ww-plan .flap-open{fill:none;stroke:var(--ww-off,#66717c);stroke-width:1.9;
stroke-linecap:round}
.ww-plan .flap-shut{display:inline}
.ww-plan .pump[data-now="delivering"] .flap-shut,.ww-plan .bypass[data-now="feeding"] .flap-shut,
.ww-plan .check-valve[data-now="passing"] .flap-shut{display:none}
.ww-plan .pump[data-now="flowing back"] .flap-shut,.ww-plan .bypass[data-now="flowing back"] .flap-shut{
display:none}
.ww-plan .pump[data-now="flowing back"] .flap-open,.ww-plan .bypass[data-now="flowing back"] .flap-open{
display:inline;stroke:var(--ww-ink,#1b2632)}
.ww-plan .bypass[data-now="flowing back"] .mouth{stroke:var(--ww-ink,#1b2632);stroke-width:2.2}
.ww-plan .pump[data-now="delivering"] .flap-open,.ww-plan .bypass[data-now="feeding"] .flap-open,
.ww-plan .check-valve[data-now="passing"] .flap-open{display:inline;stroke:var(--ww-feed,#0b6aa6)}
.ww-plan .bow{fill:var(--ww-symbol,#fff);stroke:var(--ww-off,#66717c);stroke-width:1.5;stroke-linejoin:round}
.ww-plan .stop{fill:none;stroke:var(--ww-off,#66717c);stroke-width:1.9;stroke-linecap:round}
.ww-plan .valve[data-now="shut"] .stop{display:inline}
.ww-plan .valve[data-now="open"] .bow,.ww-plan .check-valve[data-now="passing"] .bow,
.ww-plan .jet-pump[data-now="flowing"] .bow{fill:var(--ww-feed,#0b6aa6);stroke:var(--ww-on-feed,#fff);
stroke-width:1.2;paint-order:stroke}
.ww-plan .valve[data-now="moving"] .bow{stroke-dasharray:2 1.8;stroke:var(--ww-ink,#1b2632)}
.ww-plan .jet-pump[data-now="dry"] .bow{stroke-dasharray:2 1.8}
.ww-plan .mouth{fill:var(--ww-symbol,#fff);stroke:var(--ww-off,#66717c);stroke-width:1.5;
stroke-linejoin:round;stroke-linecap:round}
.ww-plan .bypass .mouth{fill:none}
.ww-plan .bypass[data-now="feeding"] .mouth{stroke:var(--ww-feed,#0b6aa6);stroke-width:2.2}
.ww-plan .vent .drop{fill:var(--ww-feed,#0b6aa6)}
.ww-plan .vent[data-now="spilling"] .drop{display:inline}
.ww-plan .vent .pool{fill:var(--ww-feed,#0b6aa6)}
.ww-plan .vent[data-now="holding"] .pool,.ww-plan .vent[data-now="spilling"] .pool{display:inline}
.ww-plan .joint{fill:var(--ww-rest,#848e98)}
.ww-plan .joint.pressed{fill:var(--ww-feed,#0b6aa6)}
.ww-plan .supply .cup{fill:none;stroke:var(--ww-off,#66717c);stroke-width:1.3}
.ww-plan .supply[data-now="delivering"] .rim{fill:var(--ww-feed,#0b6aa6);stroke:var(--ww-feed,#0b6aa6)}
.ww-plan .supply[data-now="delivering"] .cup{stroke:var(--ww-on-feed,#fff)}
.ww-plan .case{fill:var(--ww-symbol,#fff);stroke:var(--ww-off,#66717c);stroke-width:1.5;stroke-linejoin:round}
.ww-plan .engine[data-now="running"] .case,.ww-plan .apu[data-now="running"] .case{fill:var(--ww-feed,
#0b6aa6);stroke:var(--ww-feed,#0b6aa6)}
.ww-plan .engine[data-now="starting"] .case,.ww-plan .apu[data-now="starting"] .case{stroke:var(--ww-feed,
#0b6aa6);stroke-width:2.4}
.ww-plan .sensor path{fill:var(--ww-symbol,#fff);stroke:var(--ww-shell,#35769e);stroke-width:1.1}
.ww-plan .sensor[data-now="wet"] path{fill:var(--ww-shell,#35769e)}
.ww-plan .sensor[data-now="no signal"] path{stroke:var(--ww-ink,#1b2632);stroke-dasharray:1.6 1.8}
.ww-plan .probe path{fill:none;stroke:var(--ww-shell,#35769e);stroke-width:1.3;stroke-opacity:.75;
stroke-linecap:round}
.ww-plan .probe[data-now="no signal"] path{stroke:var(--ww-ink,#1b2632);stroke-opacity:1;
stroke-dasharray:1.5 4}
.ww-plan .filter .mesh{fill:none;stroke:var(--ww-off,#66717c);stroke-width:1.1}
.ww-plan .filter[data-now="bypassed"] .round{display:inline;fill:none;stroke:var(--ww-ink,#1b2632);
stroke-width:1.6}
.ww-plan .outlet .mouth{fill:none}
.ww-plan .outlet .drop{fill:var(--ww-feed,#0b6aa6)}
.ww-plan .outlet[data-now="flowing"] .drop{display:inline}
.ww-plan rect.ww-was{fill:none;stroke:var(--ww-ink,#1b2632);stroke-opacity:.55;stroke-width:1.6;
stroke-dasharray:5 4}
.ww-plan tspan.ww-was{fill:var(--ww-quiet,#505c68);font-size:.6em;font-weight:400}
.ww-plan .earlier .ww-was{font-size:1em}
.ww-plan .gives:has(~ .instead > tspan:not([display="none"],:empty)){visibility:hidden}
.ww-plan .leak{fill:var(--ww-feed,#0b6aa6);stroke:var(--ww-paper,#fbfaf6);stroke-width:1;paint-order:stroke}
""".strip()

CHART_STYLE = """
.ww-chart .phase rect{fill:var(--ww-phase,#e1e7eb)}
.ww-chart .phase text{stroke:none}
.ww-chart .phase[data-now] rect{fill:var(--ww-phase-now,#bfd3e1)}
.ww-chart .phase[data-now] text{font-weight:600}
.ww-chart .floor{stroke:var(--ww-hair,#e1e4e6);stroke-width:1}
.ww-chart .ticks line{stroke:var(--ww-hair,#e1e4e6);stroke-width:1;stroke-dasharray:2 4}
.ww-chart .ticks text{fill:var(--ww-quiet,#505c68);stroke:none}
.ww-chart .row-now{stroke:none}
.ww-chart .bar{fill:var(--ww-feed,#0b6aa6);stroke:var(--ww-feed,#0b6aa6);stroke-width:.9}
.ww-chart .return .bar{fill:var(--ww-warm,#7a4fa3);stroke:var(--ww-warm,#7a4fa3)}
.ww-chart .earlier{fill:var(--ww-earlier,#ccd4da);stroke:var(--ww-edge-strong,#79838e);stroke-width:.8}
.ww-chart .gap rect{fill:var(--ww-paper,#fbfaf6);stroke:var(--ww-off,#66717c);stroke-width:1;
stroke-dasharray:3 3}
.ww-chart .gap text{stroke:none}
.ww-chart .cursor-line{stroke:var(--ww-ink,#1b2632);stroke-width:1.6}
.ww-chart .cursor-head,.ww-chart .chip{fill:var(--ww-ink,#1b2632)}
.ww-picture .chip-words{fill:var(--ww-paper,#fbfaf6);stroke:none}
.ww-chart.ww-band :is(.chip,.chip-words){display:none}
.ww-chart .mark{fill:var(--ww-ink,#1b2632);stroke:var(--ww-ink,#1b2632);stroke-width:1.2;stroke-opacity:.7;
stroke-dasharray:3 3}
""".strip()

STYLE = f"{BASE_STYLE}\n{PLAN_STYLE}\n{CHART_STYLE}"
