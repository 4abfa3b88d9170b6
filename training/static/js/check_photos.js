/*
 * Photos made small on the phone, and shown.
 *
 * Drawing a photo anew leaves out what the camera wrote into the file, the place among it.
 */

import { element } from "./check_findings.js";
import { dropPhoto, refusedPhotos, refusePhoto } from "./check_outbox.js";
import { _ } from "./say.js";

const MOST = 20;
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
async function shrink(file) {
  const picture = await createImageBitmap(file, { imageOrientation: "from-image" });
  const canvas = drawn(picture, LONGEST_SIDE);
  picture.close();
  const blob = await new Promise((resolve) => canvas.toBlob(resolve, "image/jpeg", QUALITY));
  if (!blob) throw new Error("no picture");
  return blob;
}

/** Return a small canvas that shows `blob`, called `name` for those who cannot see it. */
async function thumb(blob, name) {
  const picture = await createImageBitmap(blob);
  const canvas = drawn(picture, THUMB);
  picture.close();
  canvas.setAttribute("role", "img");
  canvas.setAttribute("aria-label", name);
  return canvas;
}

/** Return the button that does `deed` to `photo`, called `name` for those who do not see which. */
function button(deed, photo, words, name) {
  const made = element("button", words, "button button-quiet check-small");
  made.type = "button";
  made.dataset[deed] = photo;
  made.setAttribute("aria-label", name);
  return made;
}

/** The photos of a sheet: each belongs to a line of it or to the whole, and can be taken off. */
export class PhotosView {
  /** `sheet` is the SheetView. */
  constructor(root, sheet) {
    Object.assign(this, { root, sheet });
    this.input = root.querySelector("#photo");
    this.line = root.querySelector("[data-photo-line]");
    this.thumbs = root.querySelector("[data-thumbs]");
    this.shown = "";
    this.input.addEventListener("change", () => this.take());
    this.thumbs.addEventListener("click", ({ target }) => {
      if (target.dataset.off) this.takeOff(target.dataset.off);
      if (target.dataset.again) this.sendAgain(target.dataset.again);
    });
    this.thumbs.addEventListener("change", ({ target }) => this.belong(target.dataset.photo, target.value));
  }

  tell(words) {
    const told = this.root.querySelector("[data-photo-error]");
    [told.textContent, told.hidden] = [words, !words];
  }

  async take() {
    const [file] = this.input.files;
    this.tell("");
    if (!file) return;
    const { key: on, content } = this.sheet.sheet;
    const key = crypto.randomUUID();
    if (content.photo_keys.length >= MOST) {
      this.tell(_("A sheet holds at most %(most)s photos. Take one off first.", { most: MOST }));
    } else await this.keep(on, key, file);
    this.input.value = "";
  }

  async keep(on, key, file) {
    const picture = await shrink(file).catch(() => null);
    if (!picture) {
      this.tell(_("That is not a picture this phone can read. Take the photo again."));
      return;
    }
    try {
      await this.sheet.sheets.addFile(on, key, picture);
    } catch {
      this.tell(_("The photo was not saved: this phone has no room left."));
      return;
    }
    const line = this.line.value;
    await this.sheet.change(({ content, photosHere }) => {
      content.photo_keys.push(key);
      if (line) content.photo_lines[key] = line;
      photosHere.push(key);
    }, this.root);
  }

  async sendAgain(key) {
    if (await this.sheet.note((sheet) => refusePhoto(sheet, key, ""))) this.sheet.sender.send();
  }

  takeOff(key) {
    // A sheet that is turned in stays as it is; what the site never took is let go.
    if (this.sheet.fixed) {
      this.sheet.note((sheet) => dropPhoto(sheet, key));
      return;
    }
    this.sheet.change(({ content }) => {
      content.photo_keys = content.photo_keys.filter((each) => each !== key);
      delete content.photo_lines[key];
    }, this.root);
  }

  belong(key, line) {
    this.sheet.change(({ content }) => {
      if (line) content.photo_lines[key] = line;
      else delete content.photo_lines[key];
    }, this.root);
  }

  /** `lines` are the questions of this step, and all: [name, words]; the first is the sheet. */
  fill(lines, all, isFixed) {
    const { value } = this.line;
    this.line.replaceChildren(...lines.map(([name, words]) => new Option(words, name)));
    if (lines.some(([name]) => name === value)) this.line.value = value;
    this.show(all, isFixed);
  }

  /** Show the photos that belong to the sheet; those taken elsewhere are on the site. */
  async show(lines, isFixed) {
    const { key, content, photosHere } = this.sheet.sheet;
    const refused = refusedPhotos(this.sheet.sheet);
    const now = JSON.stringify([key, content.photo_keys, content.photo_lines, photosHere, refused, isFixed]);
    if (now === this.shown) return;
    this.shown = now;
    const files = new Map((await this.sheet.sheets.filesOf(key)).map((file) => [file.key, file.blob]));
    const items = [];
    for (const [at, photo] of content.photo_keys.entries()) {
      const name = _("Photo %(number)s", { number: at + 1 });
      const picture = files.has(photo) ? await thumb(files.get(photo), name) : element("span", name);
      items.push(this.item(photo, { name, picture, lines, isFixed, problem: refused[photo] ?? "" }));
    }
    if (this.shown === now) this.thumbs.replaceChildren(...items);
  }

  item(photo, { name, picture, lines, isFixed, problem }) {
    const item = element("li", "");
    const line = this.sheet.sheet.content.photo_lines[photo] ?? "";
    const choice = document.createElement("select");
    choice.className = "form-select";
    choice.dataset.photo = photo;
    choice.disabled = isFixed;
    choice.setAttribute("aria-label", _("%(name)s shows", { name }));
    choice.append(...lines.map(([value, words]) => new Option(words, value, false, value === line)));
    const off = button("off", photo, _("Take it off"), _("Take off %(name)s", { name }));
    off.hidden = isFixed && !problem;
    item.append(picture, choice, off);
    if (!problem) return item;
    const again = button("again", photo, _("Send it again"), _("Send %(name)s again", { name }));
    for (const each of [off, again]) each.dataset.afterTurningIn = "";
    item.append(element("p", _("Not sent. %(problem)s", { problem }), "invalid-feedback"), again);
    return item;
  }
}
