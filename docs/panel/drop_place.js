// A place that takes dropped files, and says so while one hangs over it. The file button is its twin for the keyboard.

export class DropPlace {
  constructor(place, onFiles) {
    this.place = place;
    this.depth = 0;
    place.addEventListener("dragenter", (event) => this.over(event, 1));
    place.addEventListener("dragleave", (event) => this.over(event, -1));
    place.addEventListener("dragover", (event) => holdsFiles(event) && event.preventDefault());
    place.addEventListener("drop", (event) => {
      if (!holdsFiles(event)) return;
      event.preventDefault();
      this.mark(0);
      onFiles([...event.dataTransfer.files]);
    });
  }

  /** Entering a piece inside comes before leaving the one around it: so count. */
  over(event, step) {
    if (!holdsFiles(event)) return;
    event.preventDefault();
    this.mark(Math.max(0, this.depth + step));
  }

  mark(depth) {
    this.depth = depth;
    this.place.classList.toggle("ww-dropping", depth > 0);
  }
}

function holdsFiles(event) {
  return Boolean(event.dataTransfer?.types.includes("Files"));
}
