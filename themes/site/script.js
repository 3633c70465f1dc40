// What the pages do with scripts on: choices, units, paper, tick boxes, search.
// Without it every page still says everything. It asks for nothing outside this
// folder and keeps what it remembers in the browser alone.
(() => {
  "use strict";

  const page = document.documentElement;
  const { root, machine, revision, file } = page.dataset;

  // Keys in the browser's storage. All pages opened from folders may share one
  // storage, so each machine has keys of its own, and each revision its ticks.
  const keys = {
    look: "plan look",
    choice: `plan choice ${machine}`,
    ticks: `plan ticks ${machine} ${revision}`,
  };

  // Storage may be switched off, full, or hold what another page wrote.
  function recall(key) {
    try {
      const kept = JSON.parse(localStorage.getItem(key));
      return kept && typeof kept === "object" && !Array.isArray(kept) ? kept : {};
    } catch {
      return {};
    }
  }

  function keep(key, value) {
    try {
      localStorage.setItem(key, JSON.stringify(value));
      return true;
    } catch {
      return false;
    }
  }

  const all = (selector, within = document) => Array.from(within.querySelectorAll(selector));

  // say is a phrase in the page's language with values put in for each %s.
  const say = (name, ...values) =>
    values.reduce((words, value) => words.replace("%s", () => value), (self.wordsData || {})[name] || "");

  // --- Look: set before the page is painted, lest it flashes. ---

  const looks = { units: ["both", "first", "second"], scheme: ["system", "light", "dark"] };
  const look = recall(keys.look);

  function applyLook() {
    for (const [name, values] of Object.entries(looks)) {
      page.dataset[name] = values.includes(look[name]) ? look[name] : values[0];
    }
  }

  page.classList.add("js");
  applyLook();

  // --- Choices ---

  let choice = {};

  // fits reads "drive=motor;tile=small|large"; a choice that is not known fits.
  function fits(only) {
    return (only || "").split(";").every((condition) => {
      const at = condition.indexOf("=");
      const picked = choice[condition.slice(0, at)];
      return at < 0 || picked === undefined || condition.slice(at + 1).split("|").includes(picked);
    });
  }

  function readChoice() {
    const kept = recall(keys.choice);
    choice = {};
    for (const box of all("form.panel input[data-choice]")) {
      const id = box.dataset.choice;
      if (kept[id] === box.value || (box.defaultChecked && choice[id] === undefined)) choice[id] = box.value;
    }
  }

  function applyChoice() {
    for (const box of all("input[data-choice]")) box.checked = choice[box.dataset.choice] === box.value;
    for (const part of all("[data-only]")) part.classList.toggle("other", !fits(part.dataset.only));
    for (const varies of all(".varies")) {
      let found = false;
      for (const variant of Array.from(varies.children).sort((a, b) => a.dataset.n - b.dataset.n)) {
        const fit = !found && fits(variant.dataset.when);
        variant.classList.toggle("other", !fit);
        found = found || fit;
      }
    }
    const banner = document.querySelector("[data-page-only]");
    if (banner) banner.classList.toggle("misfits", !fits(banner.dataset.pageOnly));
    linkSteps();
    showProgress();
    reach();
  }

  // --- Steps: before, next, and how far the work has come ---

  const steps = () => (self.stepsData || []).filter((step) => fits(step.o));
  const path = (name) => (root || "./") + name.split("/").map(encodeURIComponent).join("/");
  const named = (step) => `${(step.n.find(([when]) => fits(when)) || ["", ""])[1]} ${step.t}`.trim();
  const address = (step) => (step.p === file ? "" : path(step.p)) + "#" + encodeURIComponent(step.a);

  function linkSteps() {
    const shown = steps();
    for (const link of all("a[data-way]")) {
      const here = shown.findIndex((step) => step.p === file && step.a === link.closest(".step").id);
      const to = here < 0 ? undefined : shown[here + (link.dataset.way === "next" ? 1 : -1)];
      link.classList.toggle("other", !to);
      if (!to) continue;
      link.href = address(to);
      link.querySelector(".to").textContent = named(to);
    }
  }

  function showProgress() {
    const ticks = recall(keys.ticks);
    const counted = steps().filter((step) => step.k);
    for (const count of all("[data-count]")) {
      const files = count.dataset.count.split(" ");
      const own = counted.filter((step) => files.includes(step.p));
      count.textContent = own.length ? `${own.filter((step) => ticks[step.k]).length}/${own.length}` : "";
    }
    for (const box of all("[data-progress]")) {
      const own = box.dataset.progress === "all" ? counted : counted.filter((step) => step.p === file);
      const done = own.filter((step) => ticks[step.k]).length;
      box.querySelector(".done").textContent = done;
      box.querySelector(".total").textContent = own.length;
      const bar = box.querySelector("progress");
      bar.max = own.length || 1;
      bar.value = done;
      const open = counted.find((step) => !ticks[step.k]);
      const resume = box.querySelector(".resume");
      resume.classList.toggle("other", !open);
      if (!open) continue;
      const link = resume.querySelector("a");
      link.href = address(open);
      link.textContent = say(counted.some((step) => ticks[step.k]) ? "goOn" : "begin", named(open));
    }
  }

  // --- Tick boxes ---

  function applyTicks() {
    const ticks = recall(keys.ticks);
    for (const box of all("input[data-tick]")) {
      box.checked = Boolean(ticks[box.dataset.tick]);
      if ("step" in box.dataset) box.closest(".step").classList.toggle("is-done", box.checked);
    }
    showProgress();
  }

  function tick(box) {
    const ticks = recall(keys.ticks);
    if (box.checked) ticks[box.dataset.tick] = 1;
    else delete ticks[box.dataset.tick];
    if (keep(keys.ticks, ticks)) return applyTicks();
    document.querySelector("[data-kept]").textContent = say("notKept");
  }

  // --- Half way: what to do by the last step done of an earlier revision ---

  // The address says which: "#done-frame.square_up", with "-alone" behind it where other
  // assemblies are not done.
  const alone = "-alone";

  function reach() {
    const box = document.querySelector("[data-halfway]");
    if (!box) return;
    const list = box.querySelector("[data-reached]");
    const less = box.querySelector("[data-alone-too]");
    for (const option of list.options) option.hidden = option.disabled = !fits(option.dataset.only);
    const { state, alone: only } = list.selectedOptions[0]?.disabled ? {} : list.selectedOptions[0]?.dataset || {};
    if (!state) list.value = "";
    less?.closest("label").classList.toggle("other", !only);
    const now = Number((less?.checked && only) || state || 0);
    for (const part of all("[data-at]", box)) {
      part.classList.toggle("out", !part.dataset.at.split(" ").some((span) => {
        const [from, to] = span.split("-").map(Number);
        return from <= now && now <= (to || from);
      }));
    }
    const count = (kind, of) => all(`.is-${kind} ${of}`, box).filter((part) => part.checkVisibility()).length;
    box.querySelector(".reached").textContent = now
      ? say("reached", list.selectedOptions[0].textContent, count("step", "h3"), count("stay", "li"))
      : "";
  }

  // readReached picks what the address names, and goes there.
  function readReached() {
    const box = document.querySelector("[data-halfway]");
    if (!box) return;
    const named = decodeURIComponent(location.hash.slice(1));
    const mark = `${box.dataset.halfway}-`;
    if (named.startsWith(mark)) {
      const list = box.querySelector("[data-reached]");
      const ids = Array.from(list.options, (option) => option.value);
      const id = named.slice(mark.length);
      const less = !ids.includes(id) && id.endsWith(alone);
      list.value = less ? id.slice(0, -alone.length) : id;
      const too = box.querySelector("[data-alone-too]");
      if (too) too.checked = less;
    }
    reach();
    if (named.startsWith(mark)) box.scrollIntoView();
  }

  function keepReached() {
    const box = document.querySelector("[data-halfway]");
    const id = box.querySelector("[data-reached]").value;
    const too = box.querySelector("[data-alone-too]");
    if (!id && too) too.checked = false;
    const less = too?.checked && box.querySelector("[data-reached]").selectedOptions[0].dataset.alone;
    history.replaceState(null, "", `#${id ? encodeURIComponent(box.dataset.halfway + "-" + id + (less ? alone : "")) : ""}`);
    reach();
  }

  // --- Tables that sort ---

  // sortValue is a number where a cell begins with one, else its words. Only
  // what is shown counts.
  function sortValue(row, column) {
    const words = (row.cells[column]?.innerText || "").trim();
    const number = /^[^\p{L}\d-]*(-?\d[\d\s,]*(?:\.\d+)?)/u.exec(words);
    return number ? Number(number[1].replace(/[\s,]/g, "")) : words;
  }

  function compare(a, b) {
    if (typeof a === "number" && typeof b === "number") return a - b;
    if (typeof a !== typeof b) return typeof a === "number" ? -1 : 1;
    return a.localeCompare(b, page.lang, { numeric: true });
  }

  function sortTable(head) {
    const table = head.closest("table");
    const down = head.getAttribute("aria-sort") === "ascending";
    for (const other of table.tHead.rows[0].cells) other.removeAttribute("aria-sort");
    head.setAttribute("aria-sort", down ? "descending" : "ascending");
    for (const body of table.tBodies) {
      const rows = all("tr.row", body).map((row) => [sortValue(row, head.cellIndex), row]);
      rows.sort((a, b) => (down ? compare(b[0], a[0]) : compare(a[0], b[0])));
      body.append(...rows.map(([, row]) => row));
    }
  }

  function addSorting() {
    for (const head of all("table[data-sort] thead th:not(.box)")) {
      const button = document.createElement("button");
      button.type = "button";
      button.className = "sort";
      button.append(...head.childNodes);
      button.addEventListener("click", () => sortTable(head));
      head.append(button);
    }
  }

  // --- Search ---

  const fold = (words) => words.normalize("NFD").replace(/\p{M}/gu, "").toLowerCase();
  const shownResults = 40;
  let entries;

  // The index is a script, fetched when first wanted: a page opened from a
  // folder may not read other files in any other way.
  function loadEntries(then) {
    if (entries) return then();
    const script = document.createElement("script");
    script.src = `${root}assets/search-data.js`;
    script.addEventListener("load", () => {
      entries = (self.searchData || []).map((entry) => ({
        ...entry,
        title: ` ${fold(entry.t)}`,
        words: ` ${fold(entry.w)}`,
      }));
      then();
    });
    document.head.append(script);
  }

  // score is how well an entry answers: every word asked for must begin a word
  // of it; those in the title count more.
  function score(entry, asked) {
    let sum = 0;
    for (const word of asked) {
      if (entry.title.includes(` ${word}`)) sum += 4;
      else if (entry.words.includes(` ${word}`)) sum += 1;
      else return 0;
    }
    return sum + (entry.title === ` ${asked.join(" ")}` ? 8 : 0);
  }

  function find(dialog) {
    const asked = fold(dialog.querySelector("input").value).split(/\s+/).filter(Boolean);
    const found = asked.length
      ? entries
          .filter((entry) => fits(entry.o))
          .map((entry) => [score(entry, asked), entry])
          .filter(([points]) => points > 0)
          .sort((a, b) => b[0] - a[0])
      : [];
    const items = found.slice(0, shownResults).map(([, entry]) => {
      const item = document.createElement("li");
      const link = document.createElement("a");
      link.href = root + entry.h;
      link.textContent = entry.t;
      const kind = document.createElement("span");
      kind.className = "small";
      kind.textContent = entry.n ? `${entry.k}. ${entry.n}` : entry.k;
      item.append(link, kind);
      return item;
    });
    dialog.querySelector(".results").replaceChildren(...items);
    const much = found.length > shownResults ? "foundMore" : "found";
    dialog.querySelector(".found").textContent =
      asked.length === 0 ? "" : found.length === 0 ? say("nothing") : say(much, found.length, shownResults);
  }

  function addSearch() {
    const dialog = document.querySelector("dialog.search");
    const input = dialog.querySelector("input");
    document.querySelector("[data-open-search]").addEventListener("click", () => {
      dialog.showModal();
      input.focus();
      loadEntries(() => find(dialog));
    });
    input.addEventListener("input", () => loadEntries(() => find(dialog)));
    input.addEventListener("keydown", (event) => {
      if (event.key !== "Enter") return;
      event.preventDefault();
      dialog.querySelector(".results a")?.click();
    });
    // A result on this page only moves it: the dialog must make way.
    dialog.addEventListener("click", (event) => {
      if (event.target === dialog || event.target.closest(".results a")) dialog.close();
    });
  }

  // --- Set up ---

  function addSetup() {
    const setup = document.querySelector("details.setup");
    document.addEventListener("click", (event) => {
      if (!setup.contains(event.target)) setup.open = false;
    });
    setup.addEventListener("keydown", (event) => {
      if (event.key !== "Escape") return;
      setup.open = false;
      setup.querySelector("summary").focus();
    });
    setup.querySelector("[data-clear-ticks]").addEventListener("click", () => {
      if (!confirm(`Clear all ticks of revision ${revision} in this browser?`)) return;
      keep(keys.ticks, {});
      applyTicks();
    });
    for (const box of all("input[data-look]")) box.checked = page.dataset[box.dataset.look] === box.value;
  }

  document.addEventListener("change", (event) => {
    const box = event.target;
    if (box.matches("input[data-tick]")) tick(box);
    else if (box.matches("input[data-look]")) {
      look[box.dataset.look] = box.value;
      keep(keys.look, look);
      applyLook();
    } else if (box.matches("input[data-choice]")) {
      choice[box.dataset.choice] = box.value;
      keep(keys.choice, choice);
      applyChoice();
    } else if (box.matches("[data-reached], [data-alone-too]")) keepReached();
  });

  addEventListener("hashchange", readReached);

  // Another window of the same plan ticked or chose.
  addEventListener("storage", (event) => {
    if (event.key === keys.ticks) applyTicks();
    if (event.key === keys.choice) {
      readChoice();
      applyChoice();
    }
  });

  document.addEventListener("DOMContentLoaded", () => {
    addSetup();
    addSearch();
    addSorting();
    readChoice();
    applyChoice();
    applyTicks();
    const contents = document.querySelector("nav.contents");
    const here = contents.querySelector("[aria-current], .inside");
    if (here) contents.scrollTop = here.offsetTop - contents.clientHeight / 2;
    // Hiding what belongs to other choices moved the page: go to the anchor again.
    document.querySelector(":target")?.scrollIntoView();
    readReached();
  });
})();
