"use strict";
// Waits for the next build, shows the page anew where its reader was, and lists the
// findings of the last build.
(() => {
  const version = Number(document.currentScript.dataset.version);
  const place = "preview " + location.pathname;

  const kept = sessionStorage.getItem(place);
  if (kept !== null) {
    sessionStorage.removeItem(place);
    const { x, y, open } = JSON.parse(kept);
    document.querySelectorAll("details").forEach((d, i) => { if (i in open) d.open = open[i]; });
    addEventListener("load", () => scrollTo(x, y));
  }

  function again() {
    const open = [...document.querySelectorAll("details:not(.preview-findings)")].map((d) => d.open);
    sessionStorage.setItem(place, JSON.stringify({ x: scrollX, y: scrollY, open }));
    location.reload();
  }

  function element(name, text, className) {
    const e = document.createElement(name);
    e.textContent = text;
    if (className) e.className = className;
    return e;
  }

  function show(state) {
    document.querySelector(".preview-findings")?.remove();
    if (!state.failure && !state.findings?.length) return;
    const box = document.createElement("details");
    box.className = "preview-findings";
    box.open = sessionStorage.getItem("preview findings") === "open";
    box.addEventListener("toggle", () => sessionStorage.setItem("preview findings", box.open ? "open" : "shut"));
    const list = state.findings ?? [];
    const errors = list.filter((f) => f.severity === "error").length;
    let head = list.length === 1 ? "1 finding" : list.length + " findings";
    if (errors) head += ", " + (errors === 1 ? "1 error" : errors + " errors");
    box.append(element("summary", state.failure ? "Not built: " + state.failure : head));
    const items = document.createElement("ol");
    for (const f of list.slice(0, 200)) {
      const item = document.createElement("li");
      const at = f.at ?? {};
      item.append(element("b", f.severity + " "), element("code", [at.file, at.line, at.column].filter(Boolean).join(":")), " " + f.message);
      if (f.remedy) item.append(element("i", " " + f.remedy));
      items.append(item);
    }
    box.append(items);
    document.body.append(box);
  }

  async function wait() {
    let have = -1;
    for (;;) {
      try {
        const answer = await fetch("/-preview/state?after=" + have, { cache: "no-store" });
        const state = await answer.json();
        if (state.version !== version && !(state.failure && version > 0)) return again();
        if (state.version !== have) show(state);
        have = state.version;
      } catch {
        await new Promise((go) => setTimeout(go, 1000)); // the preview has ended, or begins anew
      }
    }
  }
  wait();
})();
