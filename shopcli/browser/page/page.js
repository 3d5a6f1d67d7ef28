"use strict";
// What the page does beside the terminal: it says where the line is, fits the letters to the window, fetches the
// files the desk hands out, opens nothing else, and says what happened when the line ends.
(() => {
  const COLUMNS = 120, ROWS = 34, WIDE = 0.602, HIGH = 1.33, SMALLEST = 13, LARGEST = 28;
  const begin = window.onload;

  function letters() {
    const wanted = Math.min(window.innerWidth / (COLUMNS * WIDE), window.innerHeight / (ROWS * HIGH));
    return Math.max(SMALLEST, Math.min(LARGEST, Math.floor(wanted)));
  }

  async function why() {
    try {
      const answer = await fetch("/place");
      return answer.ok ? "" : await answer.text();
    } catch {
      return "The server does not answer. Perhaps it was ended, or the network is away.";
    }
  }

  // The line ended: where it never began, the server says why.
  async function ended() {
    document.getElementById("again").focus();
    const words = document.body.classList.contains("-loaded") ? "" : await why();
    if (!words) return;
    document.getElementById("ended-title").textContent = "The desk is not open here";
    document.getElementById("ended-words").textContent = words;
  }

  window.open = (address) => {
    const at = new URL(address ?? "", window.location.href);
    if (at.origin === window.location.origin && at.pathname.startsWith("/download/")) {
      const link = document.createElement("a");
      link.href = at.href;
      link.download = "";
      document.body.append(link);
      link.click();
      link.remove();
    }
    return null;
  };

  // The tab's own keys cannot be kept from a browser: one that would close it while the desk is open is asked about.
  window.addEventListener("beforeunload", (event) => {
    const open = document.body.classList.contains("-loaded") && !document.body.classList.contains("-closed");
    if (open) event.preventDefault();
  });

  window.onload = async (event) => {
    const terminal = document.getElementById("terminal");
    terminal.dataset.sessionWebsocketUrl = window.location.origin.replace(/^http/, "ws") + "/line";
    terminal.dataset.fontSize = letters();
    document.getElementById("again").addEventListener("click", () => window.location.replace("/"));
    let told = false;
    new MutationObserver(() => {
      if (!told && document.body.classList.contains("-closed")) { told = true; ended(); }
    }).observe(document.body, { attributes: true, attributeFilter: ["class"] });
    // A letter is measured once, when the terminal is made: its font has to be there by then.
    const faces = ["", "bold ", "italic "].map((kind) => document.fonts.load(`${kind}18px "Roboto Mono"`));
    await Promise.allSettled(faces);
    begin(event);
    terminal.querySelector("textarea")?.focus();
  };
})();
