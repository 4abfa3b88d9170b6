/*
 * Photos made small on the phone, and shown.
 *
 * Drawing a photo anew leaves out what the camera wrote into the file, the place among it.
 */

const LONGEST_SIDE = 1600;
const QUALITY = 0.85;
const THUMB = 96;

function drawn(picture, longest) {
  const scale = Math.min(1, longest / Math.max(picture.width, picture.height));
  const canvas = document.createElement("canvas");
  canvas.width = Math.round(picture.width * scale);
  canvas.height = Math.round(picture.height * scale);
  canvas.getContext("2d").drawImage(picture, 0, 0, canvas.width, canvas.height);
  return canvas;
}

/** Return `file` as a smaller JPEG; throw if it is no picture. */
export async function shrink(file) {
  const picture = await createImageBitmap(file, { imageOrientation: "from-image" });
  const canvas = drawn(picture, LONGEST_SIDE);
  picture.close();
  const blob = await new Promise((resolve) => canvas.toBlob(resolve, "image/jpeg", QUALITY));
  if (!blob) throw new Error("no picture");
  return blob;
}

/** Return a small canvas that shows `blob`, called `name` for those who cannot see it. */
export async function thumb(blob, name) {
  const picture = await createImageBitmap(blob);
  const canvas = drawn(picture, THUMB);
  picture.close();
  canvas.setAttribute("role", "img");
  canvas.setAttribute("aria-label", name);
  return canvas;
}
