// Runs before the page is read: starts the program's worker and gives it what it
// begins with, so that it loads, compiles and answers beside the rest. See
// program.js.
//
// It leaves, for boot.js and bind.js, globalThis.tremblant:
//
//   languages  {language: file of its texts}
//   program    the worker; heard, what it said before boot.js listens
//   broken     a promise: the worker cannot be loaded
//   begin      {language, draft, tail, asDrafted, first}: what stood in the pan, and what
//              was typed after that; whether the page begins with that draft alone; and
//              whether it is a first visit that does, with the site from the network

{
  const LANGUAGES = {{languages}};

  // Storage may be switched off, or full.
  const stored = (store, key) => {
    try {
      return store().getItem(key);
    } catch {
      return null;
    }
  };

  // A tab finds its own draft again; a new tab finds the last one. What was typed
  // after a draft, and before the program had written the next one, is its tail.
  const drafted = () => {
    for (const store of [() => sessionStorage, () => localStorage]) {
      const [draft, tail] = ["tremblant-draft", "tremblant-tail"].map((key) => stored(store, key) ?? "");
      try {
        if (draft || tail) return { draft, tail: tail ? JSON.parse(tail) : [] };
      } catch {
        return { draft, tail: [] };
      }
    }
    return { draft: "", tail: [] };
  };

  // The first language that is shipped: the one chosen before, those the browser
  // asks for, or a wider form of them (fr for fr-CH).
  const choose = () => {
    for (const wanted of [stored(() => localStorage, "tremblant-language"), ...navigator.languages]) {
      for (let tag = wanted ?? ""; tag; tag = tag.replace(/-?[^-]*$/, "")) {
        const found = Object.keys(LANGUAGES).find((l) => l.toLowerCase() === tag.toLowerCase());
        if (found) return found;
      }
    }
    return "en";
  };

  // A message would wait until the page has time to pass it on; its name a worker has
  // from the first.
  const begin = { language: choose(), ...drafted() };
  begin.asDrafted = ["", "#pan"].includes(location.hash) && begin.tail.length === 0;
  begin.first = begin.asDrafted && !begin.draft && !navigator.serviceWorker?.controller;
  const name = JSON.stringify({ ...begin, hash: location.hash, link: location.origin + location.pathname });
  const program = new Worker("{{asset program.js}}", { name });
  const broken = new Promise((done) => program.addEventListener("error", done, { once: true }));
  const heard = [];
  program.onmessage = ({ data }) => heard.push(data);

  globalThis.tremblant = { languages: LANGUAGES, program, broken, heard, begin };
}
