// Undo and redo by keys, while the keyboard is in the panel and in no field that has an undo of its own.

const TEXT = 'textarea, [contenteditable], input:not([type="radio"], [type="checkbox"], [type="file"])';

export function listenForUndo(panel) {
  panel.addEventListener("keydown", (event) => {
    const { key, ctrlKey, metaKey, shiftKey, altKey, target } = event;
    if (!(ctrlKey || metaKey) || altKey || target.closest(TEXT)) return;
    const letter = key.toLowerCase();
    const way = letter === "y" && !shiftKey ? "redo" : letter === "z" ? (shiftKey ? "redo" : "undo") : null;
    if (!way) return;
    event.preventDefault();
    panel[way]();
  });
}
