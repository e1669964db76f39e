// The replay of the offline page: shows the moment of a run that lies nearest before the time, in the words it was given.
"use strict";
(() => {
  const told = JSON.parse(document.getElementById("replay-data").textContent);
  const SVG = "http://www.w3.org/2000/svg";
  const NEAR = 12; // ship lengths across the stage when looked at closely
  const WAKE = 60; // s between two outlines of her wake
  const STEP = { ArrowLeft: -5, ArrowRight: 5, PageDown: -60, PageUp: 60 }; // s
  const get = (id) => document.getElementById(id);
  const make = (name, into, marks = {}) => {
    const thing = document.createElementNS(SVG, name);
    for (const [key, value] of Object.entries(marks)) thing.setAttribute(key, value);
    return into.appendChild(thing);
  };
  const word = (name, into, words, kind = "") => {
    const thing = document.createElement(name);
    thing.textContent = words;
    if (kind) thing.className = kind;
    return into.appendChild(thing);
  };

  const { clock: by, places, runs } = told;
  const stage = get("stage").querySelector("svg");
  const [, , wide, high] = stage.getAttribute("viewBox").split(" ").map(Number);
  // What is drawn keeps its line and its hatching, however closely it is looked at.
  const lines = [...stage.querySelectorAll("[stroke-width]")]
    .filter((thing) => !thing.closest("pattern"))
    .map((thing) => [thing, Number(thing.getAttribute("stroke-width")), (thing.getAttribute("stroke-dasharray") ?? "").split(" ").filter(Boolean).map(Number)]);
  const hatches = [...stage.querySelectorAll("pattern")];
  const scaled = (share) => {
    for (const [thing, width, dashes] of lines) {
      thing.setAttribute("stroke-width", width * share);
      if (dashes.length > 0) thing.setAttribute("stroke-dasharray", dashes.map((dash) => dash * share).join(" "));
    }
    for (const hatch of hatches) hatch.setAttribute("patternTransform", `scale(${share})`);
    stage.style.setProperty("--unit", share);
  };
  const wake = make("g", stage, { class: "wake" });
  const ship = make("path", stage, { class: "ship" });
  const names = Object.entries(places.names).map(([name, at]) => {
    const label = make("text", stage, { class: "name" });
    label.textContent = name;
    return [label, at];
  });

  let run = runs.planned;
  let time = 0;
  let near = false;
  let share = 0; // of the whole width, looked at
  let playing = false;
  let last = 0;
  let cursors = [];

  const end = () => run.time[run.time.length - 1];
  const row = (when) => {
    let [low, top] = [0, run.time.length - 1];
    while (low < top) {
      const middle = Math.ceil((low + top) / 2);
      if (run.time[middle] <= when) low = middle;
      else top = middle - 1;
    }
    return low;
  };
  const between = (name, when, i) => {
    const next = Math.min(i + 1, run.time.length - 1);
    const span = run.time[next] - run.time[i];
    const share = span > 0 ? Math.min((when - run.time[i]) / span, 1) : 0;
    let step = run[name][next] - run[name][i];
    if (name === "heading") step -= 2 * Math.PI * Math.round(step / (2 * Math.PI));
    return run[name][i] + share * step;
  };
  const where = (when) => {
    const i = row(when);
    const [north, east] = [between("north", when, i), between("east", when, i)];
    return {
      x: places.origin[0] + north * places.north[0] + east * places.east[0],
      y: places.origin[1] + north * places.north[1] + east * places.east[1],
      turned: between("heading", when, i) - places.to_right,
    };
  };

  // Her deck line, bow along her heading; from afar as large as is needed to be seen.
  const HULL = [[0.5, 0], [0.44, 0.24], [0.34, 0.42], [0.2, 0.5], [-0.5, 0.5], [-0.5, -0.5], [0.2, -0.5], [0.34, -0.42], [0.44, -0.24]];
  const outline = (at, across) => {
    const grown = Math.max(1, (across * 0.03) / (places.length * places.metre));
    const [cos, sin] = [Math.cos(at.turned), Math.sin(at.turned)];
    const points = HULL.map(([ahead, aside]) => {
      const [a, b] = [ahead * places.length * places.metre * grown, aside * places.beam * places.metre * grown];
      return `${(at.x + a * cos - b * sin).toFixed(3)},${(at.y + a * sin + b * cos).toFixed(3)}`;
    });
    return `M${points.join("L")}Z`;
  };

  const draw = () => {
    const i = row(time);
    const at = where(time);
    const across = near ? Math.min(wide, NEAR * places.length * places.metre) : wide;
    const up = (across * high) / wide;
    stage.setAttribute("viewBox", near ? `${at.x - across / 2} ${at.y - up / 2} ${across} ${up}` : `0 0 ${wide} ${high}`);
    if (across / wide !== share) scaled((share = across / wide));
    for (const [label, [x, y]] of names) {
      label.setAttribute("x", x + (1.5 * across) / wide);
      label.setAttribute("y", y - (1.5 * across) / wide);
    }
    wake.replaceChildren();
    for (let then = Math.floor(time / WAKE) * WAKE; then >= 0; then -= WAKE) make("path", wake, { d: outline(where(then), 0) });
    ship.setAttribute("d", outline(at, across));
    get("time").textContent = `${run.clock[i]} ${by}`;
    const slider = get("moment");
    slider.value = String(Math.round(time));
    slider.setAttribute("aria-valuetext", `${run.clock[i]} ${by}, minute ${Math.floor(time / 60)}`);
    get("now").querySelectorAll("dd").forEach((value, which) => (value.textContent = run.now[which][1][i]));
    for (const cursor of cursors) cursor.setAttribute("x1", (time / end()) * 1000), cursor.setAttribute("x2", (time / end()) * 1000);
    let current = -1;
    run.orders.forEach((order, which) => (current = order.time <= time ? which : current));
    const list = get("orders");
    list.querySelector("[aria-current]")?.removeAttribute("aria-current");
    const line = list.children[current];
    line?.setAttribute("aria-current", "true");
    if (line) list.scrollTop = line.offsetTop - list.offsetTop - list.clientHeight / 2;
  };

  const to = (when) => {
    time = Math.min(Math.max(when, 0), end());
    draw();
  };

  const strips = () => {
    const box = get("strips");
    box.replaceChildren();
    cursors = run.strips.map((strip) => {
      word("h3", box, `${strip.name}, least ${strip.least} at ${run.clock[strip.at]}`);
      const drawn = make("svg", box, { viewBox: "0 0 1000 60", preserveAspectRatio: "none", class: "strip", "aria-hidden": "true" });
      make("line", drawn, { x1: 0, x2: 1000, y1: 57, y2: 57 });
      let path = "";
      let broken = true;
      strip.values.forEach((value, i) => {
        if (value === null) return (broken = true);
        const y = 57 - (Math.min(Math.max(value, 0), strip.most) / strip.most) * 52;
        path += `${broken ? "M" : "L"}${((run.time[i] / end()) * 1000).toFixed(1)} ${y.toFixed(1)}`;
        broken = false;
      });
      make("path", drawn, { d: path });
      drawn.addEventListener("click", (event) => {
        const edge = drawn.getBoundingClientRect();
        to(((event.clientX - edge.left) / edge.width) * end());
      });
      return make("line", drawn, { class: "cursor", y1: 0, y2: 60 });
    });
  };

  const show = (name) => {
    run = runs[name];
    document.querySelector("#replay .why").textContent = run.why;
    get("moment").max = String(Math.floor(end()));
    const now = get("now");
    now.replaceChildren();
    for (const [label] of run.now) {
      const pair = word("div", now, "");
      word("dt", pair, label);
      word("dd", pair, "");
    }
    const list = get("orders");
    list.replaceChildren();
    for (const order of run.orders) {
      const line = word("button", word("li", list, ""), `${order.clock}  ${order.words}`);
      line.type = "button";
      line.addEventListener("click", () => to(order.time));
    }
    strips();
    to(Math.min(time, end()));
  };

  const frame = (now) => {
    if (!playing) return;
    const rate = Number(document.querySelector("#replay [name=rate]:checked").value);
    to(time + ((now - last) / 1000) * rate);
    last = now;
    if (time >= end()) play(false);
    else requestAnimationFrame(frame);
  };
  const play = (on) => {
    playing = on;
    get("play").textContent = on ? "Pause" : "Play";
    if (!on) return;
    if (time >= end()) time = 0;
    last = performance.now();
    requestAnimationFrame(frame);
  };

  get("play").addEventListener("click", () => play(!playing));
  get("near").addEventListener("click", () => {
    near = !near;
    get("near").setAttribute("aria-pressed", String(near));
    draw();
  });
  get("moment").addEventListener("input", (event) => to(event.target.valueAsNumber));
  get("moment").addEventListener("keydown", (event) => {
    if (!(event.key in STEP)) return;
    event.preventDefault();
    to(time + STEP[event.key]);
  });
  for (const choice of document.querySelectorAll("#replay [name=run]")) choice.addEventListener("change", () => show(choice.value));
  get("replay").hidden = false;
  show("planned");
})();
