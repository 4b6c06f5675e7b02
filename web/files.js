// Files: what the program hands out, and what a person chooses or drops.
//
//   #file-save     a link that saves the file that was handed out
//   #file-share    shown where the browser can pass that file on to another program
//   #import-file   the file picker; data-most is the most bytes that are read
//
// For the program it leaves on the page:
//
//   offerFile(name, type, bytes)   gets such a file ready
//
// and it sends the events "file-coming" name, then "file" name "" bytes; "big"
// instead when the file is too big to be read.
//
// A picture chosen in #photo-file goes to photo.js, which is loaded then: events
// "photo-coming", then "photo" with a data URL, "" if it is no picture.

const { page } = tremblant;
const save = document.getElementById("file-save");
const share = document.getElementById("file-share");
const picker = document.getElementById("import-file");
const SHOW_MS = 50; // lets the page say that it reads before it does

let sharing = null;

// Not every browser passes on every type of file; text is the last resort.
function shareable(name, type, bytes) {
  const files = [new File([bytes], name, { type }), new File([bytes], `${name}.txt`, { type: "text/plain" })];
  return files.find((file) => navigator.canShare?.({ files: [file] })) ?? null;
}

page.offerFile = (name, type, bytes) => {
  if (save.href) URL.revokeObjectURL(save.href);
  save.href = URL.createObjectURL(new Blob([bytes], { type }));
  save.download = name;
  sharing = shareable(name, type, bytes);
  share.hidden = !sharing;
};

share.addEventListener("click", async () => {
  try {
    await navigator.share({ files: [sharing] });
  } catch (error) {
    if (error.name !== "AbortError") page.log(String(error)); // put off, or refused: the file can still be saved
    return;
  }
  page.event("do", "file-kept", "0");
});

async function take(file) {
  page.event("file-coming", file.name);
  await new Promise((done) => setTimeout(done, SHOW_MS));
  if (file.size > Number(picker.dataset.most)) return page.event("file", file.name, "big");
  let bytes = new Uint8Array();
  try {
    bytes = new Uint8Array(await file.arrayBuffer());
  } catch (error) { // moved away meanwhile, or not to be read
    page.log(String(error));
  }
  page.event("file", file.name, "", bytes);
}

picker.addEventListener("change", () => {
  const [file] = picker.files;
  picker.value = ""; // so that the same file can be chosen again
  if (file) take(file);
});

document.getElementById("photo-file").addEventListener("change", async ({ target }) => {
  const [file] = target.files;
  target.value = "";
  if (!file) return;
  page.event("photo-coming");
  let picture = "";
  try {
    const { shrink } = await import("./{{asset photo.js}}");
    picture = await shrink(file);
  } catch (error) { // no picture, or one that this browser cannot read
    page.log(String(error));
  }
  page.event("photo", picture);
});

// A file dropped anywhere is one to import; the browser would leave the page for it.
const carriesFiles = (event) => event.dataTransfer?.types.includes("Files");
addEventListener("dragover", (event) => {
  if (carriesFiles(event)) event.preventDefault();
});
addEventListener("drop", (event) => {
  if (!carriesFiles(event)) return;
  event.preventDefault();
  const [file] = event.dataTransfer.files;
  if (file) take(file);
});
