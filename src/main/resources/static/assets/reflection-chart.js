// The reflection chart: moves the marks that the page has drawn. Its listeners are on the document,
// so that they serve charts that are swapped in and leave nothing behind when one goes.
"use strict";
(() => {
  const RADIUS_OF_MATCH = 1e-15;
  const ROUNDING = 1e-12;

  const number = (value, decimals, signed = false) => {
    const scale = 10 ** decimals;
    const shown = Math.round(value * scale) === 0 ? 0 : value;
    const text = new Intl.NumberFormat(document.documentElement.lang, {
      minimumFractionDigits: decimals,
      maximumFractionDigits: decimals,
      useGrouping: false,
    }).format(shown);
    return (signed && shown >= 0 ? "+" : "") + text.replace("-", "−");
  };

  const plain = (value) =>
    new Intl.NumberFormat(document.documentElement.lang, { maximumFractionDigits: 6, useGrouping: false })
      .format(value)
      .replace("-", "−");

  const degrees = (re, im) => (Math.atan2(im, re) * 180) / Math.PI;

  /** Electrical length at a reading: straight between the pairs of "reading:length". */
  const lengthAt = (lengths, reading) => {
    const pairs = lengths.split(" ").map((pair) => pair.split(":").map(Number));
    let right = pairs.findIndex(([at]) => at >= reading);
    right = right < 0 ? pairs.length - 1 : Math.max(right, 1);
    const [x0, y0] = pairs[right - 1];
    const [x1, y1] = pairs[right];
    return y0 + ((reading - x0) / (x1 - x0)) * (y1 - y0);
  };

  /** z = (1 + Γ)/(1 − Γ), null where it is infinite. */
  const impedance = (re, im) => {
    const below = (1 - re) ** 2 + im ** 2;
    return Math.sqrt(below) <= ROUNDING
      ? null
      : [(1 - re * re - im * im) / below, (2 * im) / below];
  };

  const say = (chart, name, text, ...values) => {
    const place = chart.querySelector(`[data-out="${name}"]`);
    if (!place) return;
    place.textContent = text;
    place.dataset.value = values.join(" ");
  };

  const move = (chart, selector, re, im) => {
    for (const mark of chart.querySelectorAll(selector)) {
      const unit = Number(mark.closest("svg").dataset.unit);
      mark.setAttribute("transform", `translate(${re * unit} ${-im * unit})`);
    }
  };

  const draw = (chart) => {
    const { infinite, referenceOhm, lengths } = chart.dataset;
    const mark = chart.querySelector("[data-mark]").selectedOptions[0].dataset;
    const slider = chart.querySelector("[data-setting]");
    const magnitude = Number(mark.magnitude);
    let turn = 0;
    if (slider) {
      const present = Number(chart.dataset.presentMm);
      // The present setting need not be a mark of the scale, which is all that the slider can show.
      const setting = slider.dataset.moved ? slider.valueAsNumber : present;
      const added = lengthAt(lengths, setting) - lengthAt(lengths, present);
      const phaseChange = (-360 * added) / Number(mark.wavelengthMm);
      turn = 2 * phaseChange;
      say(chart, "setting", `${plain(setting)} mm`, setting);
      say(chart, "added", `${number(added, 2)} mm`, added);
      say(chart, "phaseChange", `${number(phaseChange, 2, true)}°`, phaseChange);
      slider.setAttribute("aria-valuetext", `${plain(setting)} mm, ${number(phaseChange, 2, true)}°`);
      const { lockMinMm, lockMaxMm } = chart.dataset;
      chart.querySelector("[data-out-of-lock]").hidden = setting >= Number(lockMinMm) && setting <= Number(lockMaxMm);
    }
    for (const circle of chart.querySelectorAll("[data-vswr-circle]")) {
      circle.setAttribute("r", magnitude * Number(circle.closest("svg").dataset.unit));
    }
    say(chart, "magnitude", number(magnitude, 4), magnitude);
    say(chart, "vswr", magnitude >= 1 ? infinite : number((1 + magnitude) / (1 - magnitude), 3));
    say(chart, "returnLoss",
      magnitude <= RADIUS_OF_MATCH ? infinite : `${number(-20 * Math.log10(magnitude), 2)} dB`);
    if (mark.re === undefined) return;
    const [re, im] = [Number(mark.re), Number(mark.im)];
    const [cos, sin] = [Math.cos((turn * Math.PI) / 180), Math.sin((turn * Math.PI) / 180)];
    const [turnedRe, turnedIm] = [re * cos - im * sin, re * sin + im * cos];
    move(chart, "[data-measured]", re, im);
    move(chart, "[data-turned]", turnedRe, turnedIm);
    const angle = degrees(turnedRe, turnedIm);
    say(chart, "gammaPhase", `${number(angle, 2)}°`, angle);
    const z = impedance(turnedRe, turnedIm)?.map((part) => part * Number(referenceOhm));
    say(chart, "impedance",
      z ? `${number(z[0], 2)} ${z[1] < 0 ? "−" : "+"} j${number(Math.abs(z[1]), 2)} Ω` : infinite,
      ...(z ?? []));
  };

  document.addEventListener("input", (event) => {
    const chart = event.target.closest?.("[data-reflection-chart]");
    if (!chart) return;
    if (event.target.matches("[data-setting]")) event.target.dataset.moved = "yes";
    draw(chart);
  });

  document.addEventListener("click", (event) => {
    const button = event.target.closest?.("[data-present]");
    if (!button) return;
    const chart = button.closest("[data-reflection-chart]");
    const slider = chart.querySelector("[data-setting]");
    slider.value = chart.dataset.presentMm;
    delete slider.dataset.moved;
    draw(chart);
  });

  // A browser may bring back what was chosen before the page was left.
  const start = () => document.querySelectorAll("[data-reflection-chart]").forEach(draw);
  for (const event of ["DOMContentLoaded", "htmx:load"]) document.addEventListener(event, start);
})();
