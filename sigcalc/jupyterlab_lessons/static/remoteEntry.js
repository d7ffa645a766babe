// Three small helps: a lesson starts by itself; opened again another day it still shows its pictures; and where the kernel
// dies, the panels say so at once.
//
// JupyterLab loads this file as it is: a "prebuilt extension", which for so little needs no build tool. It looks up
// `window._JUPYTERLAB[name]`, calls `init` with the libraries it shares, then `get` for the plugins.

(() => {
  // Only these files, only in a folder `notebooks`, and only if the notebook itself says so: a copy under another name,
  // or somebody else's notebook, never runs before its reader has asked for it.
  const LESSONS = [
    "start_here", "1_why_a_resistor", "2_which_resistor", "3_two_wires_two_colours", "4_plan_your_signal",
    "5_resistor_or_constant_current", "6_battery_or_adapter", "7_many_signals_one_adapter", "8_let_the_train_do_it",
    "9_find_the_fault", "clinic_night", "glossary",
  ];
  const VIEW = "application/vnd.jupyter.widget-view+json";
  const STATE = "application/vnd.jupyter.widget-state+json";

  function isLesson(panel) {
    const [folder, file] = panel.context.path.split(/[/:]/).slice(-2);
    const ours = folder === "notebooks" && LESSONS.some((name) => file === `${name}.ipynb`);
    return ours && panel.content.model.getMetadata("sigcalc")?.starts_itself === true;
  }

  const codeCells = (panel) => panel.content.widgets.filter((cell) => cell.model.type === "code");
  const outputs = (panel) => codeCells(panel).flatMap((cell) => cell.model.outputs.toJSON());
  const shown = (panel) => outputs(panel).map((output) => output.data?.[VIEW]?.model_id).filter(Boolean);

  // A page that is opened again while its kernel still lives has live panels: running it would undo what was set there.
  async function isAwake(panel, kernel) {
    const { comms } = (await kernel.requestCommInfo({ target_name: "jupyter.widget" })).content;
    return shown(panel).some((id) => id in (comms ?? {}));
  }

  // "This lesson is starting: 3 of 12", as text for everybody and as a progress bar. Returns what counts a cell.
  function showBar(node, cells) {
    const done = new Set();
    const text = node.appendChild(document.createElement("span"));
    const progress = node.appendChild(document.createElement("progress"));
    node.className = "sigcalc-starting";
    text.setAttribute("role", "status");
    progress.setAttribute("aria-label", "How much of the lesson has started");
    const count = (_, { cell }) => {
      if (cells.includes(cell)) done.add(cell);
      [progress.max, progress.value] = [cells.length, done.size];
      text.textContent = `This lesson is starting: ${done.size} of ${cells.length}`;
    };
    count(null, {});
    return count;
  }

  async function start(panel, NotebookActions) {
    await Promise.all([panel.revealed, panel.sessionContext.ready]);
    const kernel = panel.sessionContext.session?.kernel;
    if (!kernel || (await isAwake(panel, kernel))) return;
    const bar = panel.content.node.appendChild(document.createElement("div"));
    const cells = codeCells(panel);
    const count = showBar(bar, cells);
    NotebookActions.executed.connect(count);
    try {
      // Unlike "run all" this leaves the reader's place in the page alone.
      await NotebookActions.runCells(panel.content, cells, panel.sessionContext);
    } finally {
      NotebookActions.executed.disconnect(count);
      bar.remove();
    }
  }

  // ipywidgets saves the state of what lives: of each run of this kernel, and nothing while the panels are asleep.
  // This keeps the state of what the page shows, no more and no less: but for answers, which are covered again when the
  // page is opened another day.
  const covered = (model) =>
    model.state._dom_classes?.includes("sigcalc-answer") && model.state.value
      ? { ...model, state: { ...model.state, value: "" } }
      : model;

  function keepPictures(panel) {
    const model = panel.content.model;
    let last = model.getMetadata("widgets")?.[STATE]?.state ?? {};
    model.metadataChanged.connect((_, { key }) => {
      const saved = model.getMetadata("widgets")?.[STATE];
      if (key !== "widgets" || !saved) return;
      const [all, kept] = [{ ...last, ...saved.state }, {}];
      const keep = (id) => {
        if (!(id in all) || id in kept) return;
        kept[id] = covered(all[id]);
        for (const [, child] of JSON.stringify(all[id]).matchAll(/"IPY_MODEL_(\w+)"/g)) keep(child);
      };
      shown(panel).forEach(keep);
      last = kept;
      const ids = Object.keys(kept);
      const asSaved = ids.length === Object.keys(saved.state).length && ids.every((id) => kept[id] === saved.state[id]);
      if (!asSaved) model.setMetadata("widgets", { [STATE]: { ...saved, state: kept } });
    });
  }

  // What the kernel last took up of each control, and thus what its picture shows: a control that was moved after the
  // kernel's death goes back to that. The kernel echoes each change when it reads it, and is idle when it has drawn.
  const STOPS = ["autorestarting", "restarting", "terminating", "dead"];
  const SAYS = ["value", "index", "selected_index"];

  function noteTaken(panel) {
    const [taken, underWay] = [new Map(), []];
    const commit = () => {
      for (const [id, state] of underWay.splice(0)) {
        const said = Object.entries(state ?? {}).filter(([name, it]) => SAYS.includes(name) && !(it instanceof Object));
        taken.set(id, { ...taken.get(id), ...Object.fromEntries(said) });
      }
    };
    panel.sessionContext.iopubMessage.connect((_, { header, content }) => {
      const { states, state } = content.data ?? {};
      if (header.msg_type === "comm_close") taken.delete(content.comm_id);
      else if (states) underWay.push(...Object.entries(states).map(([id, each]) => [id, each.state]));
      else if (state) underWay.push([content.comm_id, state]);
      else if (content.execution_state === "idle") commit();
    });
    return async () => {
      underWay.length = 0;
      const manager = await panel.content.rendermime.createRenderer(VIEW)._manager?.promise;
      for (const [id, state] of taken) {
        if (!manager?.has_model(id)) continue;
        const model = await manager.get_model(id);
        model.set(state);
        model.trigger("change", model, {}); // a box also forgets what is typed and not yet sent
      }
    };
  }

  // A cell whose kernel has died is marked until it is run again, and the page while Jupyter does not answer. A kernel that
  // the server has ended because nobody used it is dead and disconnected: running the page is what wakes it.
  function sayWhenStopped(panel, NotebookActions) {
    const { content, sessionContext } = panel;
    const putBack = noteTaken(panel);
    sessionContext.statusChanged.connect((_, status) => {
      if (!STOPS.includes(status)) return;
      for (const cell of content.widgets) cell.addClass("sigcalc-stopped");
      content.removeClass("sigcalc-cut");
      putBack();
    });
    sessionContext.connectionStatusChanged.connect((_, status) => {
      const ended = content.widgets.some((cell) => cell.hasClass("sigcalc-stopped"));
      content.toggleClass("sigcalc-cut", status !== "connected" && !ended);
      if (status !== "connected") putBack();
    });
    NotebookActions.executed.connect((_, { cell }) => cell.removeClass("sigcalc-stopped"));
  }

  // A dialog that opens below the stage is seen by nobody and may take its keys; what it says, the panel says too.
  function keepDialogsOffTheStage() {
    const button = "body > .jp-Dialog .jp-Dialog-button"; // the first: Ok, or Cancel where there is a choice
    const close = () => document.fullscreenElement && document.querySelector(button)?.click();
    new MutationObserver(close).observe(document.body, { childList: true });
  }

  // Opened as one page (the address says /doc), a lesson needs neither the list of files nor the tools beside it. The
  // menu View > Appearance brings them back.
  function clearSides(shell) {
    if (shell.mode !== "single-document") return;
    for (const side of ["left", "right"]) if (shell.isSideTabBarVisible(side)) shell.toggleSideTabBarVisibility(side);
  }

  const plugin = (name, INotebookTracker, onLesson, { onStart, wanted = isLesson } = {}) => ({
    id: `sigcalc-lessons:${name}`,
    autoStart: true,
    requires: [INotebookTracker],
    activate: (app, tracker) => {
      onStart?.(app);
      tracker.widgetAdded.connect((_, panel) => panel.context.ready.then(() => wanted(panel) && onLesson(panel)));
    },
  });

  let shared;
  window._JUPYTERLAB = window._JUPYTERLAB ?? {};
  window._JUPYTERLAB["sigcalc-lessons"] = {
    init: (libraries) => (shared = libraries),
    get: async () => {
      const { INotebookTracker, NotebookActions } = (await Object.values(shared["@jupyterlab/notebook"])[0].get())();
      const look = (app) => {
        const style = document.head.appendChild(document.createElement("link"));
        [style.rel, style.href] = ["stylesheet", new URL("lessons.css", ADDRESS)];
        app.restored.then(() => clearSides(app.shell));
      };
      const dress = (panel) => (panel.addClass("sigcalc-lesson"), keepPictures(panel));
      const begin = (panel) => start(panel, NotebookActions);
      const watch = (panel) => sayWhenStopped(panel, NotebookActions);
      return () => [
        plugin("keep", INotebookTracker, dress, { onStart: look }),
        plugin("start", INotebookTracker, begin),
        plugin("stop", INotebookTracker, watch, { wanted: () => true, onStart: keepDialogsOffTheStage }),
      ];
    },
  };
  const ADDRESS = document.currentScript.src;
})();
