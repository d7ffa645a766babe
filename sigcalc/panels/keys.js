// The keys of our panels, and the stage: the panel that fills the screen. One script for a page, loaded with the
// stylesheet, so that it is there without any extension, and works on when the kernel has stopped.

if (!window.sigcalc) {
  const OURS = ".sigcalc-panel, .sigcalc-exercise";
  const PANEL = ".sigcalc-panel";
  const ARROWS = { ArrowRight: 1, ArrowUp: 1, ArrowLeft: -1, ArrowDown: -1 };
  const stage = () => (document.fullscreenElement?.matches(PANEL) ? document.fullscreenElement : null);
  const named = (panel, name) => panel.querySelector(`.sigcalc-${name}`);

  // ---- what the buttons of a panel do
  const fill = (button) =>
    stage() ? document.exitFullscreen() : button.closest(PANEL).requestFullscreen({ navigationUI: "hide" });

  function more(button) {
    const open = button.closest(".sigcalc-columns").classList.toggle("sigcalc-more");
    button.setAttribute("aria-expanded", open);
  }

  function keys(button) {
    const list = named(button.closest(PANEL), "key-list");
    list.hidden = !list.hidden;
    button.setAttribute("aria-expanded", !list.hidden);
  }

  // ---- on the stage
  const main = (panel) => named(panel, "main-1");
  const within = (control) => control?.querySelector(".noUi-handle, select, input, button, textarea");

  // The stylesheet keeps the mouse away from what has stopped; keys are kept away here.
  const stopped = (it) => getComputedStyle(it).pointerEvents === "none";

  // One step of the panel's first control, whatever kind it is.
  function move(panel, key) {
    const control = main(panel);
    if (control && stopped(within(control))) return;
    const handle = control?.querySelector(".noUi-handle");
    const list = control?.querySelector("select");
    const positions = [...(control?.querySelectorAll(".widget-toggle-button") ?? [])];
    within(control)?.focus();
    if (handle) handle.dispatchEvent(new KeyboardEvent("keydown", { key, bubbles: true }));
    else if (list) {
      list.selectedIndex = Math.min(Math.max(list.selectedIndex + ARROWS[key], 0), list.length - 1);
      list.dispatchEvent(new Event("change", { bubbles: true }));
    } else if (positions.length) {
      const at = positions.findIndex((each) => each.classList.contains("mod-active")) + ARROWS[key];
      const wanted = positions[Math.min(Math.max(at, 0), positions.length - 1)];
      wanted.focus();
      wanted.click();
    } else control?.querySelector("input[type=checkbox]")?.click();
  }

  // Where the focus is when nothing else has it: on a talk's next button, so that Enter and the space bar go on as well.
  function rest(panel) {
    const open = (name) => panel.querySelector(`.sigcalc-${name}:enabled`);
    (open("next") ?? open("back") ?? within(main(panel)))?.focus();
  }

  // In a talk its own buttons; else the next panel of the page takes the stage. A clicker's key may bounce.
  const BOUNCE = 300; // milliseconds
  let stepped = 0;
  function step(panel, by) {
    if (Date.now() - stepped < BOUNCE) return;
    stepped = Date.now();
    panel.classList.remove("sigcalc-blank");
    for (const open of panel.querySelectorAll("[aria-expanded=true]")) open.click(); // what covers the picture
    const button = named(panel, by > 0 ? "next" : "back");
    if (button) {
      button.click();
      return rest(panel);
    }
    const page = panel.closest(".jp-Notebook") ?? document;
    const all = [...page.querySelectorAll(PANEL)].filter((each) => named(each, "fill"));
    all[all.indexOf(panel) + by]?.requestFullscreen({ navigationUI: "hide" });
  }

  // Tab goes through a stage as it is seen: the head first, then the controls in the order that the stylesheet gives them.
  function tab(panel, by) {
    const column = named(panel, "controls");
    const place = (it) => [...(column?.children ?? [])].find((each) => each.contains(it));
    const rank = (it) => (place(it) ? 1 + Number(getComputedStyle(place(it)).order) : 0);
    const all = [...panel.querySelectorAll("button, select, input, textarea, .noUi-handle")]
      .filter((each) => !each.disabled && each.checkVisibility())
      .sort((one, other) => rank(one) - rank(other));
    all.at((all.indexOf(document.activeElement) + by) % all.length)?.focus();
  }

  const ACTS = {
    PageDown: (panel) => step(panel, 1),
    PageUp: (panel) => step(panel, -1),
    b: (panel) => panel.classList.toggle("sigcalc-blank"),
    ".": (panel) => panel.classList.toggle("sigcalc-blank"),
    "?": (panel) => named(panel, "keys").click(),
    m: (panel) => named(panel, "more-button")?.click(),
    F5: () => {}, // the start key of some clickers, which would load the page anew
  };

  let spelt = -Infinity; // when a letter went to a list, which looks for it
  function onStage(panel, event) {
    const focus = document.activeElement;
    const typing = focus.matches("input:not([type=checkbox]):not([type=radio]), textarea");
    const paging = /^Page|^F5/.test(event.key);
    const list = focus.matches("select");
    const word = list && event.timeStamp - spelt < 1000; // a letter goes on with what is looked for in the list
    if (paging && event.repeat) return keep(event);
    if (ACTS[event.key] && (paging || !(typing || word))) ACTS[event.key](panel);
    else if (ARROWS[event.key] && !focus.matches(".noUi-handle, select, input, textarea")) move(panel, event.key);
    else if (event.key === "Tab") tab(panel, event.shiftKey ? -1 : 1);
    else {
      if (list && event.key.length === 1) spelt = event.timeStamp;
      return;
    }
    keep(event);
  }

  // Keys pressed in a panel are the panel's: else JupyterLab takes the arrows from radio buttons, x cuts the cell, and Alt
  // and Enter adds one. A window's listener comes before JupyterLab's own, which leaves alone what has this attribute. Only
  // Ctrl and S goes on, from the panel itself, since ipywidgets lets no key out of a box.
  function onKey(event) {
    const plain = !(event.ctrlKey || event.metaKey || event.altKey);
    const ours = event.target.closest?.(OURS);
    if (ours && event.isTrusted) {
      event.target.setAttribute("data-lm-suppress-shortcuts", "true");
      if ((event.ctrlKey || event.metaKey) && event.key.toLowerCase() === "s") {
        keep(event);
        return ours.dispatchEvent(new KeyboardEvent("keydown", event));
      }
    }
    if (plain && event.target.matches?.(SECTION) && ["Enter", " "].includes(event.key)) {
      keep(event);
      return event.target.click();
    }
    const panel = stage();
    if (panel && plain && event.isTrusted) onStage(panel, event);
    const leaves = ["Tab", "Escape"].includes(event.key);
    if (plain && !leaves && ours && stopped(event.target)) keep(event);
  }

  function keep(event) {
    event.preventDefault();
    event.stopPropagation();
  }

  // The kernel draws for the wall while the panel fills the screen: it is told by a check box that nobody sees.
  let before = null;
  function onFullscreen() {
    for (const box of document.querySelectorAll(`${PANEL} > .sigcalc-on-stage input`))
      if (box.checked !== (box.closest(PANEL) === stage())) box.click();
    const panel = stage();
    for (const each of document.querySelectorAll(`${PANEL}:not(.sigcalc-talk)`)) each.classList.toggle("sigcalc-stage", each === panel);
    if (panel) rest(panel);
    else if (before) named(before, "fill").focus();
    before = panel;
  }

  // The clock of a talk, against its plan: it starts with the first scene, and again when the talk goes back before it.
  const minutes = (seconds) => `${Math.floor(seconds / 60)}:${String(Math.floor(seconds % 60)).padStart(2, "0")}`;
  const begun = new WeakMap();
  function tick() {
    for (const talk of document.querySelectorAll(".sigcalc-talk")) {
      offerStage(talk);
      const clock = named(talk, "clock");
      if (!clock) {
        begun.delete(talk);
        continue;
      }
      if (!begun.has(talk)) begun.set(talk, Date.now());
      const now = (Date.now() - begun.get(talk)) / 1000;
      const [start, end] = [Number(clock.dataset.start), Number(clock.dataset.end)];
      const late = now > end ? `${minutes(now - end)} late` : now < start ? `${minutes(start - now)} early` : "on time";
      clock.textContent = `${minutes(now)}, ${late}`;
    }
  }

  // The clock of a game counts down to a time that the kernel wrote, so that it tells the truth after the page has slept;
  // it stops where there is no kernel any more.
  function countDown() {
    for (const each of document.querySelectorAll(".sigcalc-countdown[data-until]")) {
      const { until, seconds } = each.dataset;
      const left = Math.ceil(Math.min(until - Date.now() / 1000, seconds));
      const asleep = each.closest(".sigcalc-stopped, .sigcalc-cut, .jupyter-widgets-disconnected");
      const says = asleep ? "clock stopped" : left > 0 ? minutes(left) : "time is up";
      if (each.textContent !== says) each.textContent = says;
      each.classList.toggle("sigcalc-late", left <= 0);
    }
  }

  // A talk that has just come onto the page is ready for Enter: its button for the screen takes the focus from the
  // notebook, which takes it back some moments later, when its cells have run; from a reader's own place it takes none.
  const OFFERS = 8;
  function offerStage(talk) {
    talk.offered = (talk.offered ?? 0) + 1;
    const focus = document.activeElement;
    const idle = focus === document.body || focus.matches(".jp-Notebook, .jp-Cell, .jp-WindowedPanel-outer");
    if (talk.offered <= OFFERS && idle) named(talk, "fill").focus({ preventScroll: true });
  }

  // What opens a section of a form can be reached by keyboard, and has the focus when it is clicked: else the cell has it.
  const SECTION = ".jupyter-widget-Collapse-header";
  const reachSections = () =>
    document.querySelectorAll(`:is(${OURS}) ${SECTION}:not([tabindex])`).forEach((each) => {
      each.tabIndex = 0;
      each.setAttribute("role", "button");
    });

  // The handle of a slider, which ipywidgets leaves without a name, is called what is written beside it.
  const nameHandles = () =>
    document
      .querySelectorAll(`:is(${OURS}) .noUi-handle:not([aria-label])`)
      .forEach((each) => each.setAttribute("aria-label", each.closest(".widget-slider").firstChild.textContent));

  // What had the focus may go, as a control of the scene before, or be greyed, as the next button after the last scene.
  function keepFocus() {
    const focus = document.activeElement;
    if (stage() && (focus === document.body || focus.matches(":disabled"))) rest(stage());
  }

  setInterval(() => (tick(), countDown(), keepFocus()), 250);
  window.sigcalc = { fill, more, keys };
  window.addEventListener("keydown", onKey, true);
  document.addEventListener("fullscreenchange", onFullscreen);
  const name = () => (nameHandles(), reachSections());
  new MutationObserver(name).observe(document.body, { childList: true, subtree: true });
  name(); // what came onto the page before this script did
}
