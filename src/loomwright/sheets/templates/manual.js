"use strict";
// The page is complete without this script. It adds: one step at a time, verdicts on readings typed in, the other side
// of a plug, dark and bright, a screen that stays on, and reading aloud. Nothing leaves the phone.
(() => {
  const root = document.documentElement;
  const words = JSON.parse(document.body.dataset.words);
  const parts = [...document.querySelectorAll(".part")];
  const key = "loomwright/" + document.body.dataset.paper;
  const all = (where, what) => [...where.querySelectorAll(what)];

  // What is kept between visits; a phone that keeps nothing still works.
  let kept = { readings: {}, ticks: {} };
  try { kept = Object.assign(kept, JSON.parse(localStorage.getItem(key) || "{}")); } catch { /* private mode */ }
  const keep = () => { try { localStorage.setItem(key, JSON.stringify(kept)); } catch { /* private mode */ } };

  root.classList.add("scripted");

  // One step at a time
  const steps = document.querySelectorAll(".part.step").length;
  const previous = document.querySelector(".previous"), next = document.querySelector(".next");
  const at = document.querySelector(".pager .at");
  let now = 0;
  const single = () => root.classList.contains("single");
  const show = (index, focus) => {
    now = Math.max(0, Math.min(parts.length - 1, index));
    parts.forEach((part, i) => part.classList.toggle("now", i === now));
    previous.disabled = now === 0;
    next.disabled = now === parts.length - 1;
    at.textContent = `${now + 1} ${words.of} ${parts.length}`;
    kept.part = parts[now].id;
    keep();
    hush();
    if (single()) {
      window.scrollTo({ top: 0, behavior: "instant" });
      if (focus) parts[now].focus({ preventScroll: true });
      centre(parts[now]);
    }
  };
  // A drawing wider than the screen is moved to the pin it is about.
  const centre = (part) => all(part, "[data-at]").forEach((plate) => {
    plate.scrollLeft = Number(plate.dataset.at) * plate.scrollWidth - plate.clientWidth / 2;
  });
  const follow = () => {
    const target = location.hash && document.getElementById(decodeURIComponent(location.hash.slice(1)));
    const part = target && target.closest(".part");
    if (!part) return false;
    show(parts.indexOf(part), true);
    if (target !== part) target.scrollIntoView();
    return true;
  };
  previous.addEventListener("click", () => show(now - 1, true));
  next.addEventListener("click", () => show(now + 1, true));
  window.addEventListener("hashchange", follow);
  document.addEventListener("keydown", (event) => {
    if (!single() || event.altKey || event.ctrlKey || event.metaKey || event.target.closest("input, [tabindex='0']")) return;
    if (event.key === "ArrowRight") show(now + 1, true);
    if (event.key === "ArrowLeft") show(now - 1, true);
  });

  // The row of buttons
  const tool = (name) => document.querySelector(`.tools [data-tool="${name}"]`);
  const whole = tool("whole");
  const setWhole = (wanted) => {
    root.classList.toggle("single", !wanted);
    whole.textContent = wanted ? words.single : words.whole;
    kept.whole = wanted;
    keep();
  };
  whole.addEventListener("click", () => { setWhole(single()); if (single()) show(now, true); else parts[now].scrollIntoView(); });
  whole.hidden = steps < 2;
  tool("contents").addEventListener("click", () => {
    if (single()) show(0, true);
    document.getElementById("contents").scrollIntoView();
  });

  const theme = tool("theme");
  const isDark = () => root.dataset.theme
    ? root.dataset.theme === "dark" : window.matchMedia("(prefers-color-scheme: dark)").matches;
  const nameTheme = () => { theme.textContent = isDark() ? words.bright : words.dark; };
  if (kept.theme === "dark" || kept.theme === "bright") root.dataset.theme = kept.theme;
  theme.addEventListener("click", () => {
    root.dataset.theme = kept.theme = isDark() ? "bright" : "dark";
    keep();
    nameTheme();
  });
  nameTheme();

  const awake = tool("awake");
  awake.hidden = !("wakeLock" in navigator);
  let lock = null;
  const nameAwake = () => {
    awake.setAttribute("aria-pressed", String(Boolean(kept.awake)));
    awake.textContent = kept.awake ? words.asleep : words.awake;
  };
  const light = async () => {
    try {
      if (kept.awake && !lock) {
        lock = await navigator.wakeLock.request("screen");
        lock.addEventListener("release", () => { lock = null; });
      } else if (!kept.awake && lock) { await lock.release(); }
    } catch { /* the phone refuses when its battery is low */ }
  };
  awake.addEventListener("click", () => { kept.awake = !kept.awake; keep(); nameAwake(); light(); });
  if (!awake.hidden) {
    nameAwake();
    light();
    document.addEventListener("visibilitychange", () => { if (document.visibilityState === "visible") light(); });
  }

  const voice = tool("speak");
  voice.hidden = !("speechSynthesis" in window);
  function hush() {
    if (voice.hidden) return;
    window.speechSynthesis.cancel();
    voice.textContent = words.speak;
    voice.setAttribute("aria-pressed", "false");
  }
  voice.addEventListener("click", () => {
    if (voice.getAttribute("aria-pressed") === "true") { hush(); return; }
    // One short utterance for each paragraph: long ones are cut off by some phones.
    const said = all(parts[now], ".signal, h1, h2, h3, h4, h5, p, li, dt, dd:not(:has(li))")
      .filter((item) => !item.closest("figure, .lines, [hidden], #contents"))
      .map((item) => item.innerText.trim()).filter(Boolean);
    said.forEach((text, i) => {
      const spoken = new SpeechSynthesisUtterance(text);
      spoken.lang = root.lang;
      if (i === said.length - 1) spoken.onend = hush;
      window.speechSynthesis.speak(spoken);
    });
    voice.textContent = words.silent;
    voice.setAttribute("aria-pressed", "true");
  });

  // The other side of a plug
  all(document, ".turn").forEach((button) => button.addEventListener("click", () => {
    const faces = button.closest(".faces");
    button.setAttribute("aria-pressed", String(faces.classList.toggle("around")));
    centre(faces);
  }));

  // The table of limits, which the verdict spares on a small screen
  all(document, ".unfold").forEach((button) => button.addEventListener("click", () => {
    button.setAttribute("aria-expanded", String(button.getAttribute("aria-expanded") !== "true"));
  }));

  // Boxes to tick
  all(document, ".ticks input").forEach((box) => {
    box.checked = Boolean(kept.ticks[box.id]);
    box.addEventListener("change", () => { kept.ticks[box.id] = box.checked; keep(); });
  });

  // Readings
  const read = (input) => {
    const text = input.value.trim().replace(",", ".").replace("\u2212", "-");
    if (text === "") return null;
    return /^[-+]?(\d+\.?\d*|\.\d+)$/.test(text) ? Number(text) : NaN;
  };
  const batteries = all(document, ".battery");
  const judge = (field) => {
    // Each rule: lowest and highest reading, whether it is right, and which words on the page tell what it means.
    const rules = field.dataset.rule.split(";").map((rule) => rule.split(",").map((part) => part === "" ? null : Number(part)));
    const verdict = field.querySelector(".verdict");
    const tell = (kind, strong, text) => {
      verdict.className = "verdict " + kind;
      verdict.replaceChildren();
      if (strong) verdict.append(Object.assign(document.createElement("strong"), { textContent: strong }));
      if (text) verdict.append(text);
      return kind;
    };
    const value = read(field.querySelector(".value"));
    if (value === null) return tell("", "", "");
    if (Number.isNaN(value)) return tell("", words["type number"], "");
    let shown = value;
    let heading = "";
    if ("relative" in field.dataset) {
      const battery = read(field.closest(".readings").querySelector(".battery"));
      if (battery === null) return tell("", words["type battery"], "");
      if (Number.isNaN(battery)) return tell("", words["type number"], "");
      // Rounded, since 12.6 - 12.2 is 0.4 on the meter but not in binary.
      shown = Math.round((battery - value) * 1e6) / 1e6;
      const digits = Math.abs(shown).toFixed(2).replace(/0$/, "").replace(".", words.decimal);
      heading = ` ${digits}\u00a0${field.dataset.unit} ${shown < 0 ? words.above : words.below}.`;
    }
    const row = rules.find(([low, high]) => (low === null || shown >= low) && (high === null || shown <= high));
    if (!row) return tell("wrong", words.wrong + words.colon.trimEnd() + heading, words["no row"]);
    const [, , good, meaning, more] = row;
    const sheet = field.closest(".readings");
    const means = meaning === null ? [] : [all(sheet, ".means")[meaning]].flatMap((item) =>
      [item.querySelector(".first"), more === null ? null : item.querySelectorAll(".also > span")[more]]);
    const text = means.filter(Boolean).map((item) => item.textContent).join(" ");
    const twice = !good && (kept.readings[field.dataset.field] || {}).wrong >= 2 ? " " + words.twice : "";
    const word = good ? words.right : words.wrong;
    return tell(good ? "right" : "wrong", heading ? word + words.colon.trimEnd() + heading : `${word}.`, text + twice);
  };
  const fields = all(document, ".reading");
  fields.forEach((field) => {
    const input = field.querySelector(".value");
    input.value = (kept.readings[field.dataset.field] || {}).value || "";
    input.addEventListener("input", () => judge(field));
    // A reading counts when the person leaves the box, not at every digit.
    input.addEventListener("change", () => {
      const before = kept.readings[field.dataset.field] || { wrong: 0 };
      const kind = judge(field);
      const wrong = kind === "wrong" ? before.wrong + 1 : kind === "right" ? 0 : before.wrong;
      kept.readings[field.dataset.field] = { value: input.value, wrong };
      keep();
      judge(field);
    });
  });
  batteries.forEach((input) => {
    input.value = kept.battery || "";
    input.addEventListener("input", () => {
      kept.battery = input.value;
      keep();
      batteries.forEach((other) => { if (other !== input) other.value = input.value; });
      fields.forEach(judge);
    });
  });
  fields.forEach(judge);

  // Where the person was
  setWhole(steps < 2 || Boolean(kept.whole));
  const last = parts.findIndex((part) => part.id === kept.part);
  const note = document.querySelector(".resumed");
  if (!follow()) {
    show(last > 0 ? last : 0, false);
    note.hidden = !(last > 0 && single());
  }
  note.querySelector("button").addEventListener("click", () => { note.hidden = true; show(0, true); });
})();
