// The pages work without this. With it, answers follow while a form is filled in, and texts can be copied in one tap.
"use strict";

(() => {
  document.documentElement.classList.add("scripted");

  const typingPauseMs = 150;
  let latest = null;

  /** The address that a form with the method GET would go to, without what was left empty. */
  const addressOf = (form, submitter = null) => {
    const given = new URLSearchParams();
    for (const [name, value] of new FormData(form, submitter)) {
      if (typeof value === "string" && value.trim() !== "") given.append(name, value);
    }
    return `${form.getAttribute("action")}?${given}`;
  };

  /** What stays as the reader has it when a part of the page is put in anew. */
  const keepOpen = (before, after) => {
    const was = [...before.querySelectorAll("details")];
    [...after.querySelectorAll("details")].forEach((one, place) => {
      const summary = one.querySelector("summary")?.textContent;
      if (was[place]?.open && was[place].querySelector("summary")?.textContent === summary) one.open = true;
    });
  };

  /** Put the focus where it was: on the field of the same id, else on one of the same name. */
  const focusAgain = (part, { id, name, value, defaultValue }) => {
    const same = id ? document.getElementById(id) : null;
    if (same) {
      if (same.matches("input, textarea") && value !== defaultValue) same.value = value;
      same.focus();
      return;
    }
    const alike = [...part.querySelectorAll("input, select, button, a")].filter((one) => one.name === name);
    (alike.find((one) => one.value === value) ?? alike[0] ?? document.getElementById("main"))?.focus();
  };

  /** What goes with every part: its pictures, the title, and in words what was found, for who does not see it. */
  const beside = (page) => {
    const [pictures, drawn] = [document, page].map((one) => one.getElementById("pictures"));
    if (pictures && drawn) pictures.replaceChildren(...drawn.childNodes);
    const [told, news] = [document, page].map((one) => one.getElementById("told"));
    if (told && news && told.textContent !== news.textContent) told.textContent = news.textContent;
    document.title = page.title;
  };

  /** Put the parts of an answered page in the place of those that are shown. */
  const replaceParts = (page, ids) => {
    for (const id of ids) {
      const before = document.getElementById(id);
      const after = page.getElementById(id);
      if (!before || !after) return false;
      const held = before.contains(document.activeElement) ? document.activeElement : null;
      keepOpen(before, after);
      before.replaceWith(document.adoptNode(after));
      if (held) focusAgain(after, held);
    }
    beside(page);
    return true;
  };

  /** Ask with what the form holds now; whoever asks last is answered. */
  const follow = async (form, asStep) => {
    latest?.abort();
    const asking = new AbortController();
    latest = asking;
    document.body.classList.add("waiting");
    try {
      const address = addressOf(form);
      const reply = await fetch(address, { headers: { Accept: "text/html" }, signal: asking.signal });
      const page = new DOMParser().parseFromString(await reply.text(), "text/html");
      if (asking.signal.aborted) return;
      if (!replaceParts(page, form.dataset.live.split(" "))) {
        window.location.assign(address);
        return;
      }
      const place = new URL(reply.url);
      const here = place.pathname + place.search;
      document.querySelectorAll("input[name=back]").forEach((field) => { field.value = here; });
      if (here === window.location.pathname + window.location.search) return;
      window.history[asStep ? "pushState" : "replaceState"]({ followed: true }, "", here);
    } catch (error) {
      if (error.name !== "AbortError") form.submit();
    } finally {
      if (latest === asking) {
        latest = null;
        document.body.classList.remove("waiting");
      }
    }
  };

  const liveForms = () => document.querySelectorAll("form[data-live]");

  for (const form of liveForms()) {
    let pause = 0;
    const later = (asStep, ms) => {
      window.clearTimeout(pause);
      pause = window.setTimeout(() => follow(form, asStep), ms);
    };
    const isTyped = (field) => field.matches("input:not([type=radio], [type=checkbox]), textarea");
    form.addEventListener("input", (event) => {
      if (isTyped(event.target)) later(false, typingPauseMs);
    });
    form.addEventListener("change", (event) => {
      if (!isTyped(event.target)) later(true, 0);
    });
    form.addEventListener("submit", (event) => {
      event.preventDefault();
      window.clearTimeout(pause);
      if (event.submitter?.name) window.location.assign(addressOf(form, event.submitter));
      else later(true, 0);
    });
  }

  /** Send a form that goes by POST, and put what comes back in place; its own address then stands in the bar. */
  const send = async (form, submitter) => {
    const sent = new URLSearchParams(new FormData(form, submitter));
    document.body.classList.add("waiting");
    try {
      const reply = await fetch(form.getAttribute("action"), { method: "POST", body: sent });
      const page = new DOMParser().parseFromString(await reply.text(), "text/html");
      const now = page.getElementById(form.id);
      if (!now || !replaceParts(page, form.dataset.posts.split(" "))) {
        form.submit();
        return;
      }
      form.setAttribute("action", now.getAttribute("action"));
      showAddress(form);
    } catch {
      form.submit();
    } finally {
      document.body.classList.remove("waiting");
    }
  };

  const showAddress = (form) => {
    const here = form.getAttribute("action");
    document.querySelectorAll("input[name=back]").forEach((field) => { field.value = here; });
    if (here !== window.location.pathname) window.history.replaceState({}, "", here);
  };

  for (const form of document.querySelectorAll("form[data-posts]")) {
    showAddress(form);
    let sending = Promise.resolve();
    const next = (submitter) => { sending = sending.then(() => send(form, submitter)); };
    form.addEventListener("change", () => next(null));
    document.addEventListener("submit", (event) => {
      if (event.target !== form) return;
      event.preventDefault();
      next(event.submitter);
    });
  }

  // Back and forward show what was asked then: the form and the answer as the server gives them.
  window.addEventListener("popstate", () => window.location.reload());

  /** Say in words, for a moment, what a button has done. */
  const say = (button, words) => {
    const before = button.textContent;
    button.textContent = words;
    window.setTimeout(() => { button.textContent = before; }, 2000);
  };

  document.addEventListener("click", async (event) => {
    const button = event.target.closest("button[data-copy], button[data-print]");
    if (!button) return;
    if (button.dataset.print !== undefined) {
      window.print();
      return;
    }
    const source = document.getElementById(button.dataset.copy);
    const text = source?.textContent ?? "";
    try {
      await navigator.clipboard.writeText(text);
      say(button, "Copied");
    } catch {
      source.hidden = false;
      const range = document.createRange();
      range.selectNodeContents(source);
      window.getSelection().removeAllRanges();
      window.getSelection().addRange(range);
      say(button, "Selected: copy it");
    }
  });

  /** A part of the page that is not finished is asked for again, until it is. */
  const watch = async () => {
    const part = document.querySelector("[data-watch]");
    if (!part) return;
    try {
      const reply = await fetch(window.location.href, { headers: { Accept: "text/html" } });
      const page = new DOMParser().parseFromString(await reply.text(), "text/html");
      replaceParts(page, [part.id]);
    } catch {
      // The next time may do.
    }
    window.setTimeout(watch, 700);
  };
  if (document.querySelector("[data-watch]")) window.setTimeout(watch, 300);

  // What was asked lately: kept in this browser alone, until it is forgotten.
  const kept = "portwright-asked";
  const mostKept = 8;

  /** The questions that are kept, the newest first; null where none are to be kept. */
  const asked = () => {
    try {
      const told = JSON.parse(window.localStorage.getItem(kept) ?? "[]");
      return told === null ? null : told.filter((one) => /^\/ask\?[^#]*$/.test(one.path) && one.words);
    } catch {
      return [];
    }
  };

  const keep = (questions) => {
    try {
      window.localStorage.setItem(kept, JSON.stringify(questions));
    } catch {
      // A browser that keeps nothing is one that forgets.
    }
    showAsked();
  };

  const showAsked = () => {
    const list = document.getElementById("recent");
    if (!list) return;
    const questions = asked();
    document.getElementById("recent-off").hidden = questions !== null;
    list.hidden = !questions?.length;
    list.querySelector("ul").replaceChildren(...(questions ?? []).map(({ path, words }) => {
      const [row, link] = ["li", "a"].map((name) => document.createElement(name));
      link.href = path;
      link.textContent = words;
      row.append(link);
      return row;
    }));
  };

  const about = document.getElementById("asked-for")?.firstChild?.textContent.trim();
  if (document.getElementById("bill-1") && about && asked()) {
    const here = { path: window.location.pathname + window.location.search, words: `${document.querySelector("h1").textContent}. ${about}` };
    keep([here, ...asked().filter(({ path }) => path !== here.path)].slice(0, mostKept));
  }
  document.addEventListener("click", ({ target }) => {
    if (target.closest("[data-forget]")) keep(null);
    if (target.closest("[data-remember]")) keep([]);
  });
  showAsked();
})();
