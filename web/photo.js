// Makes a picture small enough for the book: at most MOST_BYTES as a data URL.
//
// It is drawn anew, so that nothing of the file goes along but what is seen: a
// phone writes the place and the hour into its pictures.

const MOST_BYTES = 400_000; // what the book takes
const LONG_SIDE = 1280; // CSS pixels of the longer side, at first
const QUALITIES = [0.82, 0.7, 0.55];
const SHRINK = 0.7;
const SMALLEST = 160;

// The browser turns the picture as the camera was held.
async function decode(file) {
  try {
    return await createImageBitmap(file, { imageOrientation: "from-image" });
  } catch { // a browser that reads more kinds through an element
    const picture = new Image();
    picture.src = URL.createObjectURL(file);
    try {
      await picture.decode();
    } finally {
      URL.revokeObjectURL(picture.src);
    }
    return picture;
  }
}

function drawn(picture, side) {
  const [width, height] = [picture.naturalWidth ?? picture.width, picture.naturalHeight ?? picture.height];
  const scale = Math.min(1, side / Math.max(width, height));
  const canvas = document.createElement("canvas");
  canvas.width = Math.max(1, Math.round(width * scale));
  canvas.height = Math.max(1, Math.round(height * scale));
  const pen = canvas.getContext("2d");
  pen.fillStyle = "#fff"; // JPEG knows no see-through
  pen.fillRect(0, 0, canvas.width, canvas.height);
  pen.drawImage(picture, 0, 0, canvas.width, canvas.height);
  return canvas;
}

export async function shrink(file) {
  const picture = await decode(file);
  for (let side = LONG_SIDE; side >= SMALLEST; side *= SHRINK) {
    const canvas = drawn(picture, side);
    for (const quality of QUALITIES) {
      const url = canvas.toDataURL("image/jpeg", quality);
      if (url.startsWith("data:image/jpeg;base64,") && url.length <= MOST_BYTES) return url;
    }
  }
  throw new Error("the picture cannot be made small enough");
}
