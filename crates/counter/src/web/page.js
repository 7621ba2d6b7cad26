// Draws the plots of a page in the page's own colours, and keeps them in step with it.
"use strict";
(() => {
  const places = [...document.querySelectorAll("[data-plot]")];
  const colour = (name) => getComputedStyle(document.documentElement).getPropertyValue(name).trim();

  // Colours and type come from the style sheet, so that plots follow light, dark and print.
  const dressed = (layout) => {
    const ink = colour("--ink"), rule = colour("--rule");
    const axis = (a) => Object.assign({}, a, { gridcolor: rule, zerolinecolor: rule, linecolor: ink,
      ticks: "outside", tickcolor: ink, automargin: true });
    const out = Object.assign({}, layout, { paper_bgcolor: "rgba(0,0,0,0)", plot_bgcolor: "rgba(0,0,0,0)",
      font: { family: colour("--type"), size: 16, color: ink },
      modebar: { bgcolor: "rgba(0,0,0,0)", color: colour("--faint"), activecolor: ink } });
    for (const key of Object.keys(layout)) if (/^[xy]axis\d*$/.test(key)) out[key] = axis(layout[key]);
    return out;
  };

  const draw = (place) => {
    const text = document.getElementById("plot-" + place.dataset.plot).textContent;
    const plot = JSON.parse(text);
    const config = { displaylogo: false, responsive: true,
      modeBarButtonsToRemove: ["lasso2d", "select2d", "autoScale2d"] };
    return Plotly.react(place, plot.data, dressed(plot.layout), config)
      .then(() => { place.dataset.drawn = "yes"; });
  };

  const start = () => {
    const all = () => Promise.all(places.map(draw));
    all();
    matchMedia("(prefers-color-scheme: dark)").addEventListener("change", all);
    addEventListener("beforeprint", () => places.forEach((p) => Plotly.Plots.resize(p)));
  };

  if (places.length > 0) {
    const version = new URL(document.currentScript.src).search;
    const library = document.createElement("script");
    library.src = "/static/plotly.js" + version;
    library.onload = start;
    document.head.append(library);
  }

  // A form that works for a while says so, and cannot be sent twice by a double tap.
  for (const form of document.querySelectorAll("form[data-busy]")) {
    form.addEventListener("submit", () => {
      const button = form.querySelector("button[type=submit]");
      if (button) { button.disabled = true; button.textContent = form.dataset.busy; }
    });
  }
  addEventListener("pageshow", (event) => { if (event.persisted) location.reload(); });
  for (const button of document.querySelectorAll("[data-print]")) {
    button.hidden = false;
    button.addEventListener("click", () => window.print());
  }
})();
