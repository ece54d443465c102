"use strict";
(() => {
  const key = "dripleg ticks " + document.documentElement.dataset.mark;
  const boxes = [...document.querySelectorAll("input[type=checkbox]")];
  const show = (name) => {
    for (const kept of ["kept", "not-kept"]) {
      document.querySelector("." + kept).hidden = kept !== name;
    }
  };

  // A browser may refuse to keep anything for a file: the page works without.
  const keep = () => {
    try {
      const ticked = boxes.filter((box) => box.checked).map((box) => box.id);
      localStorage.setItem(key, JSON.stringify(ticked));
      show("kept");
    } catch {
      show("not-kept");
    }
  };
  const kept = () => {
    try {
      const ticked = JSON.parse(localStorage.getItem(key) ?? "[]");
      return new Set(Array.isArray(ticked) ? ticked : []);
    } catch {
      return new Set();
    }
  };

  const parts = [...document.querySelectorAll("[data-of]")].map((line) => ({
    line,
    own: boxes.filter((box) => document.getElementById(line.dataset.of).contains(box)),
  }));
  const count = () => {
    for (const { line, own } of parts) {
      const done = own.filter((box) => box.checked).length;
      line.querySelector("output").textContent = done + " of " + own.length + " ticked";
      line.querySelector("button").disabled = done === 0;
      line.hidden = false;
    }
  };

  // An outlet in a drawing leads to its row, as the row leads to the drawing.
  for (const row of document.querySelectorAll("tr[id^=outlet-]")) {
    for (const mark of document.querySelectorAll('.sheet [id$="-' + row.id + '"]')) {
      mark.dataset.row = row.id;
      mark.addEventListener("click", () => { location.hash = row.id; });
    }
  }

  const ticked = kept();
  for (const box of boxes) {
    box.checked = ticked.has(box.id);
    box.addEventListener("change", () => { count(); keep(); });
  }
  for (const { line, own } of parts) {
    line.querySelector("button").addEventListener("click", () => {
      for (const box of own) box.checked = false;
      count();
      keep();
      own[0]?.focus();
    });
  }
  count();
  keep();
})();
