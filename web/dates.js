// Dates, for the program's worker and for the page: in the language of the page, as
// the browser's own form of it has them (en-GB, fr-CH).
//
// It is both a script and a module, since a worker of the one kind loads no other.

globalThis.datesIn = (language) => {
  const tag = navigator.languages.find((l) => l.split("-")[0] === language);
  const day = new Intl.DateTimeFormat(tag ?? language, { dateStyle: "medium" });
  return (ms) => (ms ? day.format(ms) : "");
};
