// What every page does beside its panel: an error report that holds the exact link.

/** Put the address of the page, with the state of its panel, into the report each time it is opened. */
function fillReport(details) {
  const text = details.querySelector("textarea");
  const plain = text.value;
  details.addEventListener("toggle", () => {
    if (!details.open) return;
    const panel = document.querySelector("wet-wing-panel");
    text.value = `${plain}\n${panel?.links?.address() ?? location.href}\n`;
    text.select();
  });
}

for (const details of document.querySelectorAll(".ww-report")) fillReport(details);

// The theme lets wide tables scroll sideways: the keyboard must be able to reach them.
window.addEventListener("load", () => {
  for (const wide of document.querySelectorAll(".md-typeset__scrollwrap")) wide.tabIndex = 0;
});

// The theme makes its search a dialog and gives it no name.
document.querySelector(".md-search[role=dialog]")?.setAttribute("aria-label", "Search");
