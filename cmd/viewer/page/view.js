"use strict";
(function () {
  const roof = document.body.dataset.roof || "";
  const frame = document.querySelector("iframe");
  const problem = document.getElementById("problem");
  const checked = document.getElementById("checked");
  let version = document.body.dataset.version;

  // The address keeps the view: what follows the # of the framed page stands behind that of this one.
  if (frame && location.hash) {
    frame.contentWindow.location.replace(frame.src + location.hash);
  }

  function keepView() {
    const hash = frame.contentWindow.location.hash;
    if (hash !== location.hash) {
      history.replaceState(null, "", hash || location.pathname);
    }
  }

  function say(text) {
    if (problem.textContent !== text) {
      problem.textContent = text;
    }
    problem.hidden = text === "";
  }

  async function ask() {
    try {
      const answer = await fetch("/state?roof=" + encodeURIComponent(roof), { cache: "no-store" });
      if (!answer.ok) {
        throw new Error(answer.statusText);
      }
      const state = await answer.json();
      say(state.problem && roof ? "Not checked again; this is the last result.\n" + state.problem : state.problem);
      checked.textContent = state.checked || checked.textContent;
      if (state.version !== version) {
        version = state.version;
        if (frame) {
          frame.contentWindow.location.reload();
        } else {
          location.reload();
        }
      }
    } catch {
      say("runnel view has ended: what stands here is no longer kept up to date.");
    }
    if (frame) {
      keepView();
    }
    setTimeout(ask, 1000);
  }
  setTimeout(ask, 1000);
})();
