// The window with the QR code of the state on show, its address as text, and the address of this site for others.

import { kept, make, makeSvg, nextId, setProblem, setText } from "./dom.js";
import { shareRow } from "./class_view.js";
import { exactClock } from "./clock.js";
import { qrCode, squaresPath, wholeWidth } from "./qr.js";
import { ownBase, readBase, sharedAddress } from "./site_address.js";

const KEY = "ww-site-address";
const OWN_SCRIPT = "A link can't hold a script of your own, or figures changed in it. Save the flight as a script instead.";

// Where nothing may be kept, what the reader wrote holds while the page is open.
let written = null;

/** The address of the site for others: what the reader wrote, else the page's own, else null. */
export function siteBase(panel) {
  const known = kept.read(KEY) ?? written;
  const read = known ? readBase(known) : null;
  return read?.base ?? ownBase(window.location.href, panel.dataset.page);
}

/** The address of the state on show for others, or null where it isn't known. */
export function stateAddress(panel) {
  const base = siteBase(panel);
  const own = panel.links.address();
  return base && !panel.source.own ? sharedAddress(base, panel.dataset.page, own.slice(own.indexOf("#"))) : null;
}

/** The picture of a code, black on white in every scheme: cameras expect it. @returns {SVGElement} */
export function codePicture(squares, label) {
  const width = wholeWidth(squares);
  return makeSvg(
    "svg",
    { class: "ww-qr", viewBox: `0 0 ${width} ${width}`, role: "img", "aria-label": label, "shape-rendering": "crispEdges" },
    makeSvg("rect", { width, height: width, fill: "#fff" }),
    makeSvg("path", { d: squaresPath(squares), fill: "#000" }),
  );
}

export class QrCard {
  constructor(panel) {
    this.panel = panel;
    const button = make("button", { type: "button", class: "ww-qr-open" }, "QR code");
    button.addEventListener("click", () => this.showCode());
    shareRow(panel).append(button);
  }

  showCode() {
    this.panel.pause();
    this.dialog ??= this.build();
    this.field.value = siteBase(this.panel) ?? "";
    setProblem(this.problem, null);
    this.draw();
    this.dialog.showModal();
    (this.closer ?? this.dialog).focus();
  }

  build() {
    const [title, hint] = [nextId("ww-qr-title"), nextId("ww-qr-hint")];
    this.picture = make("div", { class: "ww-qr-picture" });
    this.said = make("p", { class: "ww-qr-said", role: "status" });
    this.address = make("p", { class: "ww-qr-address" });
    this.field = make("input", { type: "text", inputmode: "url", autocomplete: "off", spellcheck: "false", "aria-describedby": hint });
    this.problem = make("p", { class: "ww-problem", id: hint, role: "alert", hidden: true });
    const set = make("button", { type: "button" }, "Set");
    set.addEventListener("click", () => this.set());
    this.field.addEventListener("keydown", (event) => event.key === "Enter" && this.set());
    this.closer = make("button", { type: "button", class: "ww-primary" }, "Close");
    this.closer.addEventListener("click", () => this.dialog.close());
    const dialog = make(
      "dialog",
      { class: "ww-qr-window", "aria-labelledby": title },
      make("p", { class: "ww-qr-title", id: title }, "QR code for this state"),
      this.picture, this.said, this.address,
      make("label", { class: "ww-qr-base" }, "Address of this site for others ", this.field),
      " ", set, this.problem,
      make("p", { class: "ww-qr-hint" }, "It is kept on this device. The code is made in the page; nothing is sent anywhere."),
      make("p", {}, this.closer),
    );
    this.panel.append(dialog);
    return dialog;
  }

  set() {
    const read = readBase(this.field.value);
    setProblem(this.problem, read.problem ?? null);
    if (read.problem) {
      this.field.setAttribute("aria-invalid", "true");
      return;
    }
    this.field.removeAttribute("aria-invalid");
    this.field.value = read.base;
    kept.write(KEY, read.base);
    written = read.base;
    this.draw();
  }

  draw() {
    const { panel } = this;
    const own = panel.links.address();
    const base = siteBase(panel);
    if (panel.source.own || !base) {
      this.picture.replaceChildren();
      setText(this.address, "");
      setText(this.said, panel.source.own ? OWN_SCRIPT : "This page is opened on this device alone, so a code for its own address would lead nobody anywhere. Write below at which address others open the site.");
      return;
    }
    const address = sharedAddress(base, panel.dataset.page, own.slice(own.indexOf("#")));
    const { squares, problem } = qrCode(address);
    const state = `${panel.flight.phaseAt(panel.timeS).label}, ${exactClock(panel.timeS)}`;
    this.picture.replaceChildren(...(squares ? [codePicture(squares, `QR code of the address written below: ${state}`)] : []));
    setText(this.said, problem ?? state);
    setText(this.address, address);
  }

  update() {}
}
