// The sweep of a reading: four plots over one frequency axis.
"use strict";
(() => {
  const PLOTS = {
    phase: [
      { values: "phaseDeg", colour: "--trace", width: 2 },
      { values: "fitDeg", colour: "--fit", width: 2, dash: [8, 6] },
    ],
    residual: [{ values: "residualDeg", colour: "--trace", width: 1.5 }],
    loss: [{ values: "insertionLossDb", colour: "--trace", width: 1.5 }],
    vswr: [{ values: "vswr", colour: "--trace", width: 1.5 }],
  };
  const running = new Map();
  const libraries = new Map();

  const number = (value, decimals) =>
    value === null || value === undefined
      ? "–"
      : new Intl.NumberFormat(document.documentElement.lang, {
          minimumFractionDigits: decimals,
          maximumFractionDigits: decimals,
          useGrouping: false,
        })
          .format(value)
          .replace("-", "−");

  /** How many decimals a step between ticks needs. */
  const decimalsOf = (step) => {
    let decimals = 0;
    while (decimals < 9 && Math.abs(step * 10 ** decimals - Math.round(step * 10 ** decimals)) > 1e-6) decimals++;
    return decimals;
  };

  const loaded = (element) =>
    new Promise((resolve, reject) => {
      element.addEventListener("load", resolve, { once: true });
      element.addEventListener("error", reject, { once: true });
      document.head.append(element);
    });

  const library = (script, style) => {
    if (!libraries.has(script)) {
      const link = Object.assign(document.createElement("link"), { rel: "stylesheet", href: style });
      const code = Object.assign(document.createElement("script"), { src: script });
      libraries.set(script, Promise.all([loaded(link), loaded(code)]));
    }
    return libraries.get(script);
  };

  const sweepOf = async (url, signal) => {
    const answer = await fetch(url, { headers: { Accept: "application/json" }, signal });
    if (!answer.ok || !answer.headers.get("Content-Type")?.startsWith("application/json")) {
      throw new Error(`no sweep: ${answer.status}`);
    }
    return answer.json();
  };

  class SweepChart {
    constructor(root) {
      this.root = root;
      this.plots = [];
      this.stopped = new AbortController();
      this.index = 0;
      const signal = this.stopped.signal;
      root.addEventListener("click", (event) => this.zoom(event.target.closest("[data-zoom]")), { signal });
      root.querySelector("[data-cursor]").addEventListener(
        "input", (event) => this.show(event.target.valueAsNumber), { signal });
      matchMedia("(prefers-color-scheme: dark)").addEventListener("change", () => this.recolour(), { signal });
      this.theme = new MutationObserver(() => this.recolour());
      this.theme.observe(document.documentElement, { attributes: true, attributeFilter: ["data-theme"] });
      // A chart in a closed part of the page has no width until that is opened.
      this.size = new ResizeObserver(() => this.fit());
      this.size.observe(root);
      this.load();
    }

    async load() {
      const { url, library: script, libraryStyle } = this.root.dataset;
      try {
        const [sweep] = await Promise.all([sweepOf(url, this.stopped.signal), library(script, libraryStyle)]);
        this.sweep = sweep;
        this.ghz = sweep.curve.frequencyHz.map((hertz) => hertz / 1e9);
        this.spotGhz = sweep.spots.frequencyHz.map((hertz) => hertz / 1e9);
        this.whole = [this.ghz[0], this.ghz.at(-1)];
        this.setRange(this.whole);
        const first = sweep.curve.frequencyHz.findIndex((hertz) => hertz >= sweep.spots.frequencyHz[0]);
        this.index = Math.max(first, 0);
        const cursor = this.root.querySelector("[data-cursor]");
        cursor.max = this.ghz.length - 1;
        cursor.value = this.index;
        this.fit();
      } catch (problem) {
        if (!this.stopped.signal.aborted) {
          this.root.querySelector("[data-values]").textContent = this.root.dataset.failed;
        }
      }
    }

    fit() {
      if (!this.sweep || !this.root.clientWidth || this.stopped.signal.aborted) return;
      if (this.plots.length === 0) {
        for (const figure of this.root.querySelectorAll("[data-plot]")) {
          const values = PLOTS[figure.dataset.plot].map((line) => this.sweep.curve[line.values]);
          figure.hidden = values[0].every((value) => value === null);
          if (!figure.hidden) this.plots.push(this.plot(figure, values));
        }
        // uPlot lays itself out in a microtask of its own.
        queueMicrotask(() => this.show(this.index));
      }
      for (const plot of this.plots) {
        const { clientWidth: width, clientHeight: height } = plot.root.parentElement;
        if (plot.width !== width || plot.height !== height) plot.setSize({ width, height });
      }
    }

    plot(figure, values) {
      const canvas = figure.querySelector(".canvas");
      const lines = PLOTS[figure.dataset.plot];
      const colour = (name) => () => getComputedStyle(this.root).getPropertyValue(name);
      const font = `12px ${getComputedStyle(this.root).fontFamily}`;
      const axis = (size) => ({
        stroke: colour("--ink-soft"),
        grid: { stroke: colour("--grid"), width: 1 },
        ticks: { stroke: colour("--grid"), width: 1 },
        font,
        size,
        values: (plot, splits, which, space, step) =>
          splits.map((split) => number(split, decimalsOf(step))),
      });
      const plot = new uPlot(
        {
          width: canvas.clientWidth,
          height: canvas.clientHeight,
          padding: [8, 12, 0, 0],
          legend: { show: false },
          scales: { x: { time: false, range: () => this.range }, y: {} },
          axes: [{ ...axis(28), space: 70 }, axis(64)],
          series: [
            {},
            ...lines.map((line) => ({
              stroke: colour(line.colour),
              width: line.width,
              dash: line.dash,
              points: { show: false },
            })),
          ],
          cursor: {
            y: false,
            points: { size: 9, width: 2, stroke: colour("--ink"), fill: colour("--ground") },
            drag: { x: true, y: false, setScale: false },
          },
          hooks: {
            setCursor: [(at) => this.follow(at)],
            setSelect: [(at) => this.select(at)],
            draw: [(at) => this.drawSpots(at, this.sweep.spots[lines[0].values], colour("--spot")())],
          },
        },
        [this.ghz, ...values],
        canvas,
      );
      return plot;
    }

    /** A square on the curve at each frequency of the order, and a dotted line down from it. */
    drawSpots(plot, values, colour) {
      const context = plot.ctx;
      const { left, top, width, height } = plot.bbox;
      const unit = devicePixelRatio;
      context.save();
      context.beginPath();
      context.rect(left, top, width, height);
      context.clip();
      context.strokeStyle = colour;
      this.spotGhz.forEach((ghz, i) => {
        const x = plot.valToPos(ghz, "x", true);
        context.lineWidth = unit;
        context.setLineDash([2 * unit, 4 * unit]);
        context.beginPath();
        context.moveTo(x, top);
        context.lineTo(x, top + height);
        context.stroke();
        if (values[i] === null) return;
        const y = plot.valToPos(values[i], "y", true);
        context.lineWidth = 2 * unit;
        context.setLineDash([]);
        context.strokeRect(x - 4 * unit, y - 4 * unit, 8 * unit, 8 * unit);
      });
      context.restore();
    }

    /** The pointer over one plot moves the cursor of all. */
    follow(plot) {
      if (!plot.cursor.event || plot.cursor.idx == null) return;
      this.root.querySelector("[data-cursor]").value = plot.cursor.idx;
      this.show(plot.cursor.idx, plot);
    }

    show(index, moved) {
      this.index = index;
      for (const plot of this.plots) {
        if (plot !== moved) {
          plot.setCursor({ left: plot.valToPos(this.ghz[index], "x"), top: 0 }, false);
        }
      }
      const at = this.sweep.curve;
      const said = [
        number(this.ghz[index], 4),
        number(at.phaseDeg[index], 2),
        number(at.fitDeg[index], 2),
        number(at.residualDeg[index], 2),
        number(at.insertionLossDb[index], 3),
        number(at.vswr[index], 3),
      ];
      const text = this.root.dataset.at.replace(/\{(\d)\}/g, (whole, place) => said[place]);
      this.root.querySelector("[data-values]").textContent = text;
      this.root.querySelector("[data-cursor]").setAttribute("aria-valuetext", text);
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

    /** Keeps within the sweep, and no fewer than three points in view. */
    zoomTo(from, to) {
      const [first, last] = this.whole;
      const least = (2 * (last - first)) / (this.ghz.length - 1);
      const span = Math.min(Math.max(to - from, least), last - first);
      const start = Math.min(Math.max((from + to - span) / 2, first), last - span);
      this.setRange([start, start + span]);
      for (const plot of this.plots) plot.setScale("x", { min: start, max: start + span });
      queueMicrotask(() => this.show(this.index));
    }

    setRange(range) {
      this.range = range;
      [this.root.dataset.fromGhz, this.root.dataset.toGhz] = range;
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

  const start = () => {
    for (const [root, chart] of running) {
      if (!root.isConnected) {
        chart.stop();
        running.delete(root);
      }
    }
    for (const root of document.querySelectorAll("[data-sweep-chart]")) {
      if (!running.has(root)) running.set(root, new SweepChart(root));
    }
  };

  for (const event of ["DOMContentLoaded", "htmx:load", "htmx:afterSettle"]) {
    document.addEventListener(event, start);
  }
})();
