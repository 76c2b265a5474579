// What charts of plots over one axis have in common: loading, size, colours, one cursor, zoom.
"use strict";
class Plots {
  static #libraries = new Map();

  /** Draws the charts of a page when one of the events tells of them, and stops those that are gone. */
  static keep(selector, Chart, events) {
    const running = new Map();
    const start = () => {
      for (const [root, chart] of running) {
        if (!root.isConnected) {
          chart.stop();
          running.delete(root);
        }
      }
      for (const root of document.querySelectorAll(selector)) {
        if (!running.has(root)) {
          running.set(root, new Chart(root));
          running.get(root).load();
        }
      }
    };
    for (const event of events) document.addEventListener(event, start);
  }

  static number(value, decimals) {
    return value === null || value === undefined
      ? "–"
      : new Intl.NumberFormat(document.documentElement.lang, {
          minimumFractionDigits: decimals,
          maximumFractionDigits: decimals,
          useGrouping: false,
        })
          .format(value)
          .replace("-", "−");
  }

  /** How many decimals a step between ticks needs. */
  static #decimalsOf(step) {
    let decimals = 0;
    while (decimals < 9 && Math.abs(step * 10 ** decimals - Math.round(step * 10 ** decimals)) > 1e-6) decimals++;
    return decimals;
  }

  static #loaded(element) {
    return new Promise((resolve, reject) => {
      element.addEventListener("load", resolve, { once: true });
      element.addEventListener("error", reject, { once: true });
      document.head.append(element);
    });
  }

  static #library(script, style) {
    if (!Plots.#libraries.has(script)) {
      const link = Object.assign(document.createElement("link"), { rel: "stylesheet", href: style });
      const code = Object.assign(document.createElement("script"), { src: script });
      Plots.#libraries.set(script, Promise.all([Plots.#loaded(link), Plots.#loaded(code)]));
    }
    return Plots.#libraries.get(script);
  }

  /**
   * A chart tells the names of its range's ends, reads its {@code x}, {@code whole} range and
   * {@code index} in {@code read}, makes a plot of a figure in {@code plot}, and says in {@code at}
   * what stands at the cursor.
   */
  constructor(root, ends) {
    this.root = root;
    this.ends = ends;
    this.plots = [];
    this.cursor = root.querySelector("[data-cursor]");
    this.stopped = new AbortController();
    const signal = this.stopped.signal;
    root.addEventListener("click", (event) => this.zoom(event.target.closest("[data-zoom]")), { signal });
    this.cursor.addEventListener("input", () => this.reveal(this.cursor.valueAsNumber), { signal });
    matchMedia("(prefers-color-scheme: dark)").addEventListener("change", () => this.recolour(), { signal });
    this.theme = new MutationObserver(() => this.recolour());
    this.theme.observe(document.documentElement, { attributes: true, attributeFilter: ["data-theme"] });
    // A chart in a closed part of the page has no width until that is opened.
    this.size = new ResizeObserver(() => this.fit());
    this.size.observe(root);
  }

  async load() {
    const { library, libraryStyle } = this.root.dataset;
    try {
      await Promise.all([this.#begin(), Plots.#library(library, libraryStyle)]);
      this.ready = true;
      this.fit();
    } catch (problem) {
      if (!this.stopped.signal.aborted) {
        this.root.querySelector("[data-values]").textContent = this.root.dataset.failed;
      }
    }
  }

  async #begin() {
    await this.read();
    this.setRange(this.whole);
  }

  fit() {
    if (!this.ready || !this.root.clientWidth || this.stopped.signal.aborted) return;
    if (this.plots.length === 0) {
      for (const figure of this.root.querySelectorAll("[data-plot]")) {
        const plot = this.plot(figure);
        if (plot) this.plots.push(plot);
      }
      // uPlot lays itself out in a microtask of its own.
      queueMicrotask(() => this.show(this.index));
    }
    for (const plot of this.plots) {
      const { clientWidth: width, clientHeight: height } = plot.root.parentElement;
      if (plot.width !== width || plot.height !== height) plot.setSize({ width, height });
    }
  }

  colour(name) {
    return () => getComputedStyle(this.root).getPropertyValue(name);
  }

  /** A plot of values over {@code x}; {@code axis} adds to the lower axis, {@code y} to the scale. */
  draw(figure, values, { axis, y = {}, series, point, over }) {
    const canvas = figure.querySelector(".canvas");
    const usual = {
      stroke: this.colour("--ink-soft"),
      grid: { stroke: this.colour("--grid"), width: 1 },
      ticks: { stroke: this.colour("--grid"), width: 1 },
      font: `12px ${getComputedStyle(this.root).fontFamily}`,
      values: (plot, splits, which, space, step) =>
        splits.map((split) => Plots.number(split, Plots.#decimalsOf(step))),
    };
    return new uPlot(
      {
        width: canvas.clientWidth,
        height: canvas.clientHeight,
        padding: [8, 12, 0, 0],
        legend: { show: false },
        scales: { x: { time: false, range: () => this.range }, y },
        axes: [{ ...usual, size: 28, ...axis }, { ...usual, size: 64 }],
        series: [{}, ...series],
        cursor: {
          y: false,
          points: { size: point, width: 2, stroke: this.colour("--ink"), fill: this.colour("--ground") },
          drag: { x: true, y: false, setScale: false },
        },
        hooks: {
          setCursor: [(plot) => this.follow(plot)],
          setSelect: [(plot) => this.select(plot)],
          draw: over,
        },
      },
      [this.x, ...values],
      canvas,
    );
  }

  /** The pointer over one plot moves the cursor of all. */
  follow(plot) {
    if (!plot.cursor.event || plot.cursor.idx == null) return;
    this.cursor.value = plot.cursor.idx;
    this.show(plot.cursor.idx, plot);
  }

  reveal(index) {
    this.show(index);
  }

  show(index, moved) {
    this.index = index;
    for (const plot of this.plots) {
      if (plot !== moved) plot.setCursor({ left: plot.valToPos(this.x[index], "x"), top: 0 }, false);
    }
    const text = this.at(index);
    this.root.querySelector("[data-values]").textContent = text;
    this.cursor.setAttribute("aria-valuetext", text);
  }

  select(plot) {
    const { left, width } = plot.select;
    if (width < 5) return;
    this.zoomTo(plot.posToVal(left, "x"), plot.posToVal(left + width, "x"));
    plot.setSelect({ left: 0, top: 0, width: 0, height: 0 }, false);
  }

  zoom(button) {
    if (!button || this.plots.length === 0) return;
    const [from, to] = this.range;
    const span = to - from;
    const steps = {
      in: [from + span / 4, to - span / 4],
      out: [from - span / 2, to + span / 2],
      left: [from - span / 4, to - span / 4],
      right: [from + span / 4, to + span / 4],
      whole: this.whole,
    };
    this.zoomTo(...steps[button.dataset.zoom]);
  }

  /** Keeps within the whole, and no narrower than {@code least}. */
  zoomTo(from, to) {
    const [first, last] = this.whole;
    const span = Math.min(Math.max(to - from, this.least), last - first);
    const start = Math.min(Math.max((from + to - span) / 2, first), last - span);
    this.setRange([start, start + span]);
    for (const plot of this.plots) plot.setScale("x", { min: start, max: start + span });
    queueMicrotask(() => this.show(this.index));
  }

  setRange(range) {
    this.range = range;
    this.ends.forEach((end, i) => (this.root.dataset[end] = range[i]));
  }

  recolour() {
    for (const plot of this.plots) plot.redraw(false);
  }

  stop() {
    this.stopped.abort();
    this.theme.disconnect();
    this.size.disconnect();
    for (const plot of this.plots) plot.destroy();
    this.plots = [];
  }
}
