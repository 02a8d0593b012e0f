(function () {
  "use strict";
  var plan = JSON.parse(document.getElementById("plan").textContent);
  var sheets = plan.sheets, last = sheets.length;
  var state = { done: {}, now: 1 };
  var boxes = {};
  document.documentElement.classList.add("script");

  function remember() {
    try {
      localStorage.setItem(plan.key, JSON.stringify({ done: Object.keys(state.done), now: state.now }));
    } catch (e) { forgets(); }
  }
  function recall() {
    try {
      var kept = JSON.parse(localStorage.getItem(plan.key) || "null");
      if (!kept || !Array.isArray(kept.done)) return false;
      kept.done.forEach(function (key) { if (boxes[key]) state.done[key] = true; });
      if (kept.now >= 1 && kept.now <= last) state.now = Math.floor(kept.now);
      return kept.done.some(function (key) { return key.charAt(0) === "s"; });
    } catch (e) { forgets(); return false; }
  }
  function forgets() {
    var note = document.getElementById("forgets");
    if (note) note.hidden = false;
  }
  function byStep(selector) {
    var out = {};
    document.querySelectorAll(selector).forEach(function (e) {
      (out[e.dataset.step] = out[e.dataset.step] || []).push(e);
    });
    return out;
  }
  function all(selector, root) { return Array.prototype.slice.call((root || document).querySelectorAll(selector)); }
  function step(n) { return document.getElementById("step-" + n); }
  function done(n) { return !!state.done["s" + n]; }

  all("input[data-key]").forEach(function (box) { boxes[box.dataset.key] = box; });
  var marks = byStep("figure [data-step]");
  var lit = [], halos = [];

  function choose(bench, sheet) {
    all("figure", bench).forEach(function (f) { f.classList.toggle("shown", f.dataset.sheet === String(sheet)); });
    all(".which .one", bench).forEach(function (b) { b.setAttribute("aria-pressed", String(b.dataset.sheet === String(sheet))); });
  }
  // A long sheet is shown near the cuts of the step, unless all of it is wanted.
  var whole = false;
  function frame() {
    var svg = step(state.now).closest(".bench").querySelector("figure.shown svg");
    if (!svg) return;
    var all = (svg.dataset.all = svg.dataset.all || svg.getAttribute("viewBox")).split(" ").map(Number);
    var w = all[2], h = all[3], long = h > 1.4 * w;
    svg.closest(".figures").querySelector(".which").classList.toggle("long", long);
    // As much of it as the screen shows at full width.
    var most = w * Math.max(.8, Math.min(2, parseFloat(getComputedStyle(svg).maxHeight) / svg.clientWidth || 1));
    if (whole || !long) { svg.setAttribute("viewBox", svg.dataset.all); return; }
    var low = h, high = 0;
    lit.forEach(function (e) {
      if (!svg.contains(e)) return;
      var at = e.getBBox();
      low = Math.min(low, at.y);
      high = Math.max(high, at.y + at.height);
    });
    if (low > high) { low = 0; high = h; }
    var size = Math.min(h, Math.max(most, high - low + 40));
    var top = Math.max(0, Math.min(h - size, (low + high - size) / 2));
    svg.setAttribute("viewBox", "0 " + top + " " + w + " " + size);
  }
  function paint(n) {
    (marks[n] || []).forEach(function (e) { e.classList.toggle("done", done(n)); });
  }
  function count() {
    var ticked = 0, of = {}, got = {};
    for (var n = 1; n <= last; n++) {
      var bench = step(n).closest(".bench").id;
      of[bench] = (of[bench] || 0) + 1;
      if (done(n)) { ticked++; got[bench] = (got[bench] || 0) + 1; }
    }
    Object.keys(of).forEach(function (id) {
      document.querySelector("#" + id + " .count").textContent = (got[id] || 0) + " of " + of[id] + " steps done";
    });
    document.getElementById("progress").value = ticked;
    document.getElementById("place").textContent = "Step " + state.now + " of " + last;
    document.getElementById("says").textContent = ": " + ["t", "m"].map(function (id) { return document.getElementById(id + state.now).textContent; }).join(", ") + ". ";
    document.getElementById("ticked").textContent = ticked === last ? "all done" : ticked + " done";
    document.getElementById("tick").textContent = done(state.now) ? "Go on" : "Done, next";
    document.getElementById("previous").disabled = state.now === 1;
    document.getElementById("next").disabled = state.now === last;
  }
  function show(n, move) {
    var old = document.querySelector(".step.now");
    if (old) { old.classList.remove("now"); old.removeAttribute("aria-current"); }
    lit.forEach(function (e) { e.classList.remove("now"); });
    halos.forEach(function (e) { e.remove(); });
    state.now = n;
    var li = step(n), bench = li.closest(".bench");
    li.classList.add("now");
    li.setAttribute("aria-current", "step");
    lit = marks[n] || [];
    lit.forEach(function (e) { e.classList.add("now"); });
    halos = lit.filter(function (e) { return e.classList.contains("cut"); }).map(function (e) {
      // Paper-white around the line, so that it stands out of what it crosses.
      var halo = e.cloneNode();
      halo.setAttribute("class", "halo");
      return e.parentNode.insertBefore(halo, e);
    });
    var shown = bench.querySelector("figure.shown");
    if (sheets[n - 1].length && (!shown || sheets[n - 1].indexOf(Number(shown.dataset.sheet)) < 0)) choose(bench, sheets[n - 1][0]);
    all(".which .one", bench).forEach(function (b) { b.classList.toggle("touched", sheets[n - 1].indexOf(Number(b.dataset.sheet)) >= 0); });
    frame();
    bench.style.setProperty("--figures", bench.querySelector(".figures").offsetHeight + "px");
    count();
    if (move) li.scrollIntoView({ block: "start", behavior: move });
  }
  function pace() { return matchMedia("(prefers-reduced-motion: reduce)").matches ? "auto" : "smooth"; }
  function set(key, on) {
    if (on) state.done[key] = true; else delete state.done[key];
    boxes[key].checked = on;
    if (key.charAt(0) === "s") paint(Number(key.slice(1)));
  }
  function go(n, focus) {
    if (n < 1 || n > last) return;
    show(n, pace());
    if (focus) boxes["s" + n].focus({ preventScroll: true });
    remember();
  }
  function tickAndGo(focus) {
    set("s" + state.now, true);
    var n = state.now, tried = 0;
    do { n = n % last + 1; tried++; } while (done(n) && tried < last);
    if (tried === last) n = state.now;
    go(n, focus);
  }

  document.addEventListener("change", function (e) {
    var key = e.target.dataset && e.target.dataset.key;
    if (!key) return;
    set(key, e.target.checked);
    if (key.charAt(0) === "s") show(Number(key.slice(1)));
    remember();
  });
  document.addEventListener("click", function (e) {
    var b = e.target.closest(".which .one");
    if (b) { choose(b.closest(".bench"), b.dataset.sheet); frame(); }
    b = e.target.closest(".whole");
    if (b) {
      whole = !whole;
      document.querySelectorAll(".whole").forEach(function (x) { x.setAttribute("aria-pressed", String(whole)); });
      frame();
    }
  });
  addEventListener("beforeprint", function () {
    document.querySelectorAll("svg[data-all]").forEach(function (svg) { svg.setAttribute("viewBox", svg.dataset.all); });
  });
  addEventListener("afterprint", function () { if (last) frame(); });
  var kept = recall();
  Object.keys(state.done).forEach(function (key) { boxes[key].checked = true; });
  if (last === 0) return;

  all(".bench").forEach(function (b) { var f = b.querySelector("figure"); if (f) choose(b, f.dataset.sheet); });
  for (var n = 1; n <= last; n++) paint(n);
  document.getElementById("bar").hidden = false;
  document.getElementById("previous").onclick = function () { go(state.now - 1); };
  document.getElementById("next").onclick = function () { go(state.now + 1); };
  document.getElementById("tick").onclick = function () { tickAndGo(); };
  document.getElementById("restart").onclick = function () {
    Object.keys(boxes).forEach(function (key) { set(key, false); });
    show(1);
    remember();
  };
  document.addEventListener("keydown", function (e) {
    if (e.altKey || e.ctrlKey || e.metaKey || e.shiftKey || e.defaultPrevented) return;
    var at = e.target, free = at === document.body || at.tagName === "HTML" || at.type === "checkbox";
    if (e.key === "ArrowRight") go(state.now + 1, true);
    else if (e.key === "ArrowLeft") go(state.now - 1, true);
    else if (e.key === "Enter" && free) tickAndGo(true);
    else return;
    e.preventDefault();
  });
  show(state.now, kept && !location.hash ? "auto" : "");
})();
