// A control chart, drawn from the table below it: values, moving ranges, and a chart of small shifts.
"use strict";
(() => {
  const running = new Map();
  const libraries = new Map();

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

  const number = (value, decimals) =>
    new Intl.NumberFormat(document.documentElement.lang, {
      minimumFractionDigits: decimals,
      maximumFractionDigits: decimals,
      useGrouping: false,
    })
      .format(value)
      .replace("-", "−");

  const decimalsOf = (step) => {
    let decimals = 0;
    while (decimals < 9 && Math.abs(step * 10 ** decimals - Math.round(step * 10 ** decimals)) > 1e-6) decimals++;
    return decimals;
  };

  const figure = (text) => (text === undefined || text === "" ? null : Number(text));

  class ControlChart {
    constructor(root) {
      this.root = root;
      this.plots = [];
      this.stopped = new AbortController();
      const signal = this.stopped.signal;
      this.rows = [...document.getElementById(root.dataset.table).querySelectorAll("[data-value]")];
      this.numbers = this.rows.map((row) => Number(row.dataset.number));
      this.whole = [0.5, this.rows.length + 0.5];
      this.setRange(this.whole);
      this.cursor = root.querySelector("[data-cursor]");
      this.index = this.cursor.valueAsNumber;
      root.addEventListener("click", (event) => this.zoom(event.target.closest("[data-zoom]")), { signal });
      this.cursor.addEventListener("input", () => this.reveal(this.cursor.valueAsNumber), { signal });
      matchMedia("(prefers-color-scheme: dark)").addEventListener("change", () => this.recolour(), { signal });
      this.theme = new MutationObserver(() => this.recolour());
      this.theme.observe(document.documentElement, { attributes: true, attributeFilter: ["data-theme"] });
      this.size = new ResizeObserver(() => this.fit());
      this.size.observe(root);
      this.load();
    }

    async load() {
      try {
        await library(this.root.dataset.library, this.root.dataset.libraryStyle);
        this.ready = true;
        this.fit();
      } catch (problem) {
        this.root.querySelector("[data-values]").textContent = this.root.dataset.failed;
      }
    }

    fit() {
      if (!this.ready || !this.root.clientWidth || this.stopped.signal.aborted) return;
      if (this.plots.length === 0) {
        for (const each of this.root.querySelectorAll("[data-plot]")) this.plots.push(this.plot(each));
        // uPlot lays itself out in a microtask of its own.
        queueMicrotask(() => this.show(this.index));
      }
      for (const plot of this.plots) {
        const { clientWidth: width, clientHeight: height } = plot.root.parentElement;
        if (plot.width !== width || plot.height !== height) plot.setSize({ width, height });
      }
    }

    /** Each figure names the columns it draws, its lines across, and which points are marked. */
    plot(element) {
      const canvas = element.querySelector(".canvas");
      const { columns, mark } = element.dataset;
      const values = columns.split(" ").map((name) => this.rows.map((row) => figure(row.dataset[name])));
      const across = [
        { at: figure(element.dataset.center), dash: [] },
        { at: figure(element.dataset.lower), dash: [8, 6] },
        { at: figure(element.dataset.upper), dash: [8, 6] },
      ].filter((line) => line.at !== null);
      const marked = this.rows.map((row) => row.dataset[mark] === "true");
      const all = values.flat().filter((value) => value !== null).concat(across.map((line) => line.at));
      const [least, greatest] = [Math.min(...all), Math.max(...all)];
      const room = (greatest - least) * 0.08 || 1;
      const colour = (name) => () => getComputedStyle(this.root).getPropertyValue(name);
      const axis = (size) => ({
        stroke: colour("--ink-soft"),
        grid: { stroke: colour("--grid"), width: 1 },
        ticks: { stroke: colour("--grid"), width: 1 },
        font: `12px ${getComputedStyle(this.root).fontFamily}`,
        size,
        values: (plot, splits, which, space, step) => splits.map((split) => number(split, decimalsOf(step))),
      });
      return new uPlot(
        {
          width: canvas.clientWidth,
          height: canvas.clientHeight,
          padding: [8, 12, 0, 0],
          legend: { show: false },
          scales: {
            x: { time: false, range: () => this.range },
            y: { range: [least - room, greatest + room] },
          },
          axes: [{ ...axis(28), space: 60, incrs: [1, 2, 5, 10, 20, 50, 100, 200, 500] }, axis(64)],
          series: [
            {},
            ...values.map((line, i) => ({
              stroke: colour(i === 0 ? "--trace" : "--fit"),
              width: 1.5,
              dash: i === 0 ? [] : [4, 4],
              spanGaps: false,
              points: { show: true, size: 5, fill: colour(i === 0 ? "--trace" : "--fit") },
            })),
          ],
          cursor: {
            y: false,
            points: { size: 11, width: 2, stroke: colour("--ink"), fill: colour("--ground") },
            drag: { x: true, y: false, setScale: false },
          },
          hooks: {
            setCursor: [(at) => this.follow(at)],
            setSelect: [(at) => this.select(at)],
            draw: [
              (at) => this.drawLines(at, across, colour("--limit")()),
              (at) => this.drawMarks(at, values, marked, colour("--bad")()),
            ],
          },
        },
        [this.numbers, ...values],
        canvas,
      );
    }

    drawLines(plot, across, colour) {
      const context = plot.ctx;
      const { left, width } = plot.bbox;
      context.save();
      context.strokeStyle = colour;
      context.lineWidth = 1.5 * devicePixelRatio;
      for (const line of across) {
        const y = plot.valToPos(line.at, "y", true);
        context.setLineDash(line.dash.map((length) => length * devicePixelRatio));
        context.beginPath();
        context.moveTo(left, y);
        context.lineTo(left + width, y);
        context.stroke();
      }
      context.restore();
    }

    /** A ring and a triangle: a mark that is seen without its colour. */
    drawMarks(plot, values, marked, colour) {
      const context = plot.ctx;
      const unit = devicePixelRatio;
      const [first, last] = this.range;
      context.save();
      context.fillStyle = colour;
      context.strokeStyle = colour;
      context.lineWidth = 2 * unit;
      marked.forEach((is, i) => {
        const value = values.map((line) => line[i]).reduce((a, b) => (b === null ? a : Math.max(a, b)), values[0][i]);
        if (!is || value === null || this.numbers[i] < first || this.numbers[i] > last) return;
        const x = plot.valToPos(this.numbers[i], "x", true);
        const y = plot.valToPos(value, "y", true);
        context.beginPath();
        context.arc(x, y, 6 * unit, 0, 2 * Math.PI);
        context.stroke();
        const tip = y - 9 * unit > plot.bbox.top + 10 * unit ? y - 9 * unit : y + 19 * unit;
        context.beginPath();
        context.moveTo(x, tip - 8 * unit);
        context.lineTo(x + 5 * unit, tip);
        context.lineTo(x - 5 * unit, tip);
        context.fill();
      });
      context.restore();
    }

    /** The pointer over one plot moves the cursor of all. */
    follow(plot) {
      if (!plot.cursor.event || plot.cursor.idx == null) return;
      this.cursor.value = plot.cursor.idx;
      this.show(plot.cursor.idx, plot);
    }

    /** A point chosen outside the view is brought into it. */
    reveal(index) {
      this.index = index;
      const [from, to] = this.range;
      const at = this.numbers[index];
      if (at >= from && at <= to) this.show(index);
      else this.zoomTo(at - (to - from) / 2, at + (to - from) / 2);
    }

    show(index, moved) {
      this.index = index;
      for (const plot of this.plots) {
        if (plot !== moved) plot.setCursor({ left: plot.valToPos(this.numbers[index], "x"), top: 0 }, false);
      }
      const row = this.rows[index];
      this.root.querySelector("[data-values]").textContent = row.dataset.say;
      this.cursor.setAttribute("aria-valuetext", row.dataset.say);
      const link = this.root.querySelector("[data-open]");
      const target = row.querySelector("a");
      link.hidden = !target;
      if (target) {
        link.href = target.href;
        link.textContent = target.textContent;
      }
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

    /** Keeps within the values, and no fewer than three of them in view. */
    zoomTo(from, to) {
      const [first, last] = this.whole;
      const span = Math.min(Math.max(to - from, 3), last - first);
      const start = Math.min(Math.max((from + to - span) / 2, first), last - span);
      this.setRange([start, start + span]);
      this.index = Math.min(Math.max(this.index, Math.ceil(start) - 1), Math.floor(start + span) - 1);
      this.cursor.value = this.index;
      for (const plot of this.plots) plot.setScale("x", { min: start, max: start + span });
      queueMicrotask(() => this.show(this.index));
    }

    setRange(range) {
      this.range = range;
      [this.root.dataset.from, this.root.dataset.to] = range;
    }

    recolour() {
      for (const plot of this.plots) plot.redraw(false);
    }

    stop() {
      this.stopped.abort();
      this.theme.disconnect();
      this.size.disconnect();
      for (const plot of this.plots) plot.destroy();
    }
  }

  const start = () => {
    for (const [root, chart] of running) {
      if (!root.isConnected) {
        chart.stop();
        running.delete(root);
      }
    }
    for (const root of document.querySelectorAll("[data-control-chart]")) {
      if (!running.has(root)) running.set(root, new ControlChart(root));
    }
  };

  for (const event of ["DOMContentLoaded", "htmx:afterSettle"]) document.addEventListener(event, start);
})();
