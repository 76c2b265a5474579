// A control chart, drawn from the table below it: values, moving ranges, and a chart of small shifts.
"use strict";
(() => {
  const figure = (text) => (text === undefined || text === "" ? null : Number(text));

  class ControlChart extends Plots {
    constructor(root) {
      super(root, ["from", "to"]);
    }

    read() {
      this.rows = [...document.getElementById(this.root.dataset.table).querySelectorAll("[data-value]")];
      this.x = this.rows.map((row) => Number(row.dataset.number));
      this.whole = [0.5, this.rows.length + 0.5];
      this.least = 3;
      this.index = this.cursor.valueAsNumber;
    }

    /** Each figure names the columns it draws, its lines across, and which points are marked. */
    plot(element) {
      const { columns, mark, center, lower, upper } = element.dataset;
      const values = columns.split(" ").map((name) => this.rows.map((row) => figure(row.dataset[name])));
      const across = [
        { at: figure(center), dash: [] },
        { at: figure(lower), dash: [8, 6] },
        { at: figure(upper), dash: [8, 6] },
      ].filter((line) => line.at !== null);
      const marked = this.rows.map((row) => row.dataset[mark] === "true");
      const all = values.flat().filter((value) => value !== null).concat(across.map((line) => line.at));
      const [least, greatest] = [Math.min(...all), Math.max(...all)];
      const room = (greatest - least) * 0.08 || 1;
      const colours = values.map((line, i) => this.colour(i === 0 ? "--trace" : "--fit"));
      return this.draw(element, values, {
        axis: { space: 60, incrs: [1, 2, 5, 10, 20, 50, 100, 200, 500] },
        y: { range: [least - room, greatest + room] },
        series: colours.map((colour, i) => ({
          stroke: colour,
          width: 1.5,
          dash: i === 0 ? [] : [4, 4],
          spanGaps: false,
          points: { show: true, size: 5, fill: colour },
        })),
        point: 11,
        over: [
          (plot) => this.drawLines(plot, across, this.colour("--limit")()),
          (plot) => this.drawMarks(plot, values, marked, this.colour("--bad")()),
        ],
      });
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
        if (!is || value === null || this.x[i] < first || this.x[i] > last) return;
        const x = plot.valToPos(this.x[i], "x", true);
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

    /** A point chosen outside the view is brought into it. */
    reveal(index) {
      this.index = index;
      const [from, to] = this.range;
      const at = this.x[index];
      if (at >= from && at <= to) this.show(index);
      else this.zoomTo(at - (to - from) / 2, at + (to - from) / 2);
    }

    at(index) {
      const row = this.rows[index];
      const link = this.root.querySelector("[data-open]");
      const target = row.querySelector("a");
      link.hidden = !target;
      if (target) {
        link.href = target.href;
        link.textContent = target.textContent;
      }
      return row.dataset.say;
    }

    /** The cursor stays in view. */
    zoomTo(from, to) {
      super.zoomTo(from, to);
      const [first, last] = this.range;
      this.index = Math.min(Math.max(this.index, Math.ceil(first) - 1), Math.floor(last) - 1);
      this.cursor.value = this.index;
    }
  }

  Plots.keep("[data-control-chart]", ControlChart, ["DOMContentLoaded", "htmx:afterSettle"]);
})();
