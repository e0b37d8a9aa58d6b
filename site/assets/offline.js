// Where the site is served: asks the browser to keep what is visited, so that it can be read without a network.
(function () {
  "use strict";
  const { root } = window.Steadyrail.settings;
  const workers = navigator.serviceWorker; // none in a folder opened from disk, nor where the connection is not private
  if (!workers || !/^https?:$/.test(window.location.protocol)) return;

  // The page with everything it came with, and what it sends for only when its problems are turned.
  function visited() {
    const came = performance.getEntriesByType("resource").map((entry) => entry.name);
    const holder = document.getElementById("problem");
    const later = holder ? [holder.dataset.bank, holder.dataset.sheets].filter(Boolean) : [];
    return [window.location.href, ...came, ...later.map((place) => new URL(place, document.baseURI).href)];
  }

  window.addEventListener("load", async () => {
    try {
      await workers.register(`${root}sw.js`, { scope: root });
      const registration = await workers.ready;
      registration.active.postMessage({ visited: visited() });
    } catch (error) {
      return; // the browser will not keep pages here: the site works as long as there is a network
    }
  });
})();
