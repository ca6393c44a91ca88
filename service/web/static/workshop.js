// The workshop's pages work without this. With it, a part is drawn anew while its form is filled in.
"use strict";

(() => {
  const typingPauseMs = 200;

  for (const form of document.querySelectorAll("form[data-draws]")) {
    let pause = 0;
    let latest = null;

    /** Ask for the page as it would be checked, and put its picture in place; fields are left as they are. */
    const draw = async () => {
      const shown = document.getElementById(form.dataset.draws);
      if (!shown) return;
      latest?.abort();
      const asking = new AbortController();
      latest = asking;
      const sent = new URLSearchParams(new FormData(form));
      sent.set("do", "draw");
      try {
        const reply = await fetch(form.getAttribute("action"), { method: "POST", body: sent, signal: asking.signal });
        const page = new DOMParser().parseFromString(await reply.text(), "text/html");
        const drawn = page.getElementById(form.dataset.draws);
        if (drawn) document.getElementById(form.dataset.draws).replaceWith(document.adoptNode(drawn));
      } catch {
        // The next time may do.
      }
    };

    form.addEventListener("input", () => {
      window.clearTimeout(pause);
      pause = window.setTimeout(draw, typingPauseMs);
    });
  }
})();
