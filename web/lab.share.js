// The link of the formula onto the clipboard. The program keeps it in the button's
// data-link. Where the browser refuses, which it does on a page without HTTPS, and where
// somebody has told it to, the link stands on the page, marked, to be copied by hand.

async function copied(link, field) {
  try {
    await navigator.clipboard.writeText(link);
    return true;
  } catch {
    field.select(); // the older way needs no permission
    return document.execCommand("copy");
  }
}

async function copyLink(button) {
  const field = byId("lab-share-text");
  field.value = button.dataset.link;
  field.hidden = false; // what is hidden cannot be marked
  const done = await copied(button.dataset.link, field);
  field.hidden = done;
  byId("lab-share-copied").hidden = !done;
  byId("lab-share-refused").hidden = done;
  if (done) {
    if (document.activeElement === document.body) button.focus();
    return;
  }
  field.focus();
  field.select();
}

// What has been said is of the link that there was.
const forgetCopy = new MutationObserver(() => {
  for (const id of ["lab-share-copied", "lab-share-refused", "lab-share-text"]) byId(id).hidden = true;
});

document.addEventListener("click", ({ target }) => {
  const button = target.closest("#lab-share-copy");
  if (!button) return;
  forgetCopy.observe(button, { attributeFilter: ["data-link"] });
  copyLink(button);
});
