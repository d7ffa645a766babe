// A lesson starts by itself: when it opens, its cells run once, and a slim bar on top says how far that is.
//
// JupyterLab loads this file as it is: a "prebuilt extension", which for so little needs no build tool. It asks for
// `window._JUPYTERLAB[name]`, calls `init` with the libraries it shares, then `get` for the plugin.
// To do without: `jupyter labextension disable sigcalc-lessons`. Every lesson also runs by Run > Run All Cells.

(() => {
  // Only these files, only in a folder `notebooks`, and only if the notebook itself says so: a copy under another name,
  // or somebody else's notebook, never runs before its reader has asked for it.
  const LESSONS = [
    "start_here",
    "1_why_a_resistor",
    "2_which_resistor",
    "3_two_wires_two_colours",
    "4_plan_your_signal",
    "5_resistor_or_constant_current",
    "6_battery_or_adapter",
    "7_many_signals_one_adapter",
    "8_let_the_train_do_it",
    "9_find_the_fault",
    "glossary",
  ];

  function startsItself(panel) {
    const [folder, file] = panel.context.path.split(/[/:]/).slice(-2);
    const isLesson = folder === "notebooks" && LESSONS.some((name) => file === `${name}.ipynb`);
    return isLesson && panel.content.model.getMetadata("sigcalc")?.starts_itself === true;
  }

  // A page that is opened again while its kernel still lives has live panels: running it would undo what was set there.
  async function isAwake(cells, kernel) {
    const outputs = cells.flatMap((cell) => cell.model.outputs.toJSON());
    const panels = outputs.map((output) => output.data?.["application/vnd.jupyter.widget-view+json"]?.model_id);
    const { comms } = (await kernel.requestCommInfo({ target_name: "jupyter.widget" })).content;
    return panels.some((id) => id in (comms ?? {}));
  }

  // "This lesson is starting: 3 of 12", as text for everybody and as a progress bar.
  class Bar {
    constructor(panel, cells) {
      this.cells = cells;
      this.done = new Set();
      this.node = document.createElement("div");
      this.node.className = "sigcalc-starting";
      this.text = this.node.appendChild(document.createElement("span"));
      this.text.setAttribute("role", "status");
      this.progress = this.node.appendChild(document.createElement("progress"));
      this.progress.setAttribute("aria-label", "How much of the lesson has started");
      this.progress.max = cells.length;
      panel.content.node.append(this.node);
      this.show();
    }

    count(cell) {
      if (this.cells.includes(cell)) {
        this.done.add(cell);
        this.show();
      }
    }

    show() {
      this.progress.value = this.done.size;
      this.text.textContent = `This lesson is starting: ${this.done.size} of ${this.cells.length}`;
    }
  }

  async function start(panel, NotebookActions) {
    await panel.context.ready;
    if (!startsItself(panel)) return;
    panel.addClass("sigcalc-lesson");
    await Promise.all([panel.revealed, panel.sessionContext.ready]);
    const kernel = panel.sessionContext.session?.kernel;
    const cells = panel.content.widgets.filter((cell) => cell.model.type === "code");
    if (!kernel || (await isAwake(cells, kernel))) return;
    const bar = new Bar(panel, cells);
    const count = (_, { cell }) => bar.count(cell);
    NotebookActions.executed.connect(count);
    try {
      // Unlike "run all" this leaves the reader's place in the page alone.
      await NotebookActions.runCells(panel.content, cells, panel.sessionContext);
    } finally {
      NotebookActions.executed.disconnect(count);
      bar.node.remove();
    }
  }

  // Opened as one page (the address says /doc), a lesson needs neither the list of files nor the tools beside it. The
  // menu View > Appearance brings them back.
  function clearSides(shell) {
    if (shell.mode !== "single-document") return;
    for (const side of ["left", "right"]) if (shell.isSideTabBarVisible(side)) shell.toggleSideTabBarVisibility(side);
  }

  // The room for the bar is kept, so that nothing moves when it goes. A closed code cell is one quiet line.
  const STYLE = `
.sigcalc-lesson .jp-WindowedPanel-outer { padding-top: 2.2em; }
.sigcalc-lesson :is(.jp-cell-toolbar, .jp-DebuggerBugButton) { display: none; }
.sigcalc-lesson .jp-InputPlaceholder .jp-Placeholder-content { border-color: transparent; background: none; }
.sigcalc-lesson .jp-InputPlaceholder .jp-PlaceholderText { font-size: 0.85em; }
.sigcalc-starting { position: absolute; z-index: 5; top: 0; left: 0; right: 0; box-sizing: border-box; height: 2.2em;
  padding: 0 1.5em; display: flex; gap: 1em; align-items: center; background: var(--jp-layout-color2);
  color: var(--jp-ui-font-color1); font-size: var(--jp-ui-font-size2); }
.sigcalc-starting progress { flex: 1 1 auto; height: 0.5em; accent-color: var(--jp-brand-color1); }
`;

  let shared;
  const take = async (name) => (await Object.values(shared[name])[0].get())();

  window._JUPYTERLAB = window._JUPYTERLAB ?? {};
  window._JUPYTERLAB["sigcalc-lessons"] = {
    init: (libraries) => (shared = libraries),
    get: async () => {
      const { INotebookTracker, NotebookActions } = await take("@jupyterlab/notebook");
      const plugin = {
        id: "sigcalc-lessons:start",
        description: "Runs a lesson of sigcalc once when it opens.",
        autoStart: true,
        requires: [INotebookTracker],
        activate: (app, tracker) => {
          document.head.appendChild(document.createElement("style")).textContent = STYLE;
          app.restored.then(() => clearSides(app.shell));
          tracker.widgetAdded.connect((_, panel) => start(panel, NotebookActions));
        },
      };
      return () => plugin;
    },
  };
})();
