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

  const sweepOf = async (url, signal) => {
    const answer = await fetch(url, { headers: { Accept: "application/json" }, signal });
    if (!answer.ok || !answer.headers.get("Content-Type")?.startsWith("application/json")) {
      throw new Error(`no sweep: ${answer.status}`);
    }
    return answer.json();
  };

  class SweepChart extends Plots {
    constructor(root) {
      super(root, ["fromGhz", "toGhz"]);
    }

    async read() {
      this.sweep = await sweepOf(this.root.dataset.url, this.stopped.signal);
      const { curve, spots } = this.sweep;
      this.x = curve.frequencyHz.map((hertz) => hertz / 1e9);
      this.spotGhz = spots.frequencyHz.map((hertz) => hertz / 1e9);
      this.whole = [this.x[0], this.x.at(-1)];
      // Three points.
      this.least = (2 * (this.x.at(-1) - this.x[0])) / (this.x.length - 1);
      this.index = Math.max(curve.frequencyHz.findIndex((hertz) => hertz >= spots.frequencyHz[0]), 0);
      this.cursor.max = this.x.length - 1;
      this.cursor.value = this.index;
    }

    /** A figure without values is left out. */
    plot(figure) {
      const lines = PLOTS[figure.dataset.plot];
      const values = lines.map((line) => this.sweep.curve[line.values]);
      figure.hidden = values[0].every((value) => value === null);
      if (figure.hidden) return null;
      return this.draw(figure, values, {
        axis: { space: 70 },
        series: lines.map((line) => ({
          stroke: this.colour(line.colour),
          width: line.width,
          dash: line.dash,
          points: { show: false },
        })),
        point: 9,
        over: [(plot) => this.drawSpots(plot, this.sweep.spots[lines[0].values], this.colour("--spot")())],
      });
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

    at(index) {
      const curve = this.sweep.curve;
      const said = [
        Plots.number(this.x[index], 4),
        Plots.number(curve.phaseDeg[index], 2),
        Plots.number(curve.fitDeg[index], 2),
        Plots.number(curve.residualDeg[index], 2),
        Plots.number(curve.insertionLossDb[index], 3),
        Plots.number(curve.vswr[index], 3),
      ];
      return this.root.dataset.at.replace(/\{(\d)\}/g, (whole, place) => said[place]);
    }
  }

  Plots.keep("[data-sweep-chart]", SweepChart, ["DOMContentLoaded", "htmx:load", "htmx:afterSettle"]);
})();
