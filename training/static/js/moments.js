/* Days and times as the site writes them, whatever the language of the phone. */

/** Return a time of day such as "3:05 p.m." */
export function clock(moment) {
  const text = moment.toLocaleTimeString("en-US", { hour: "numeric", minute: "2-digit" });
  return text.replace(/\s*([AP])M$/, (_all, half) => ` ${half.toLowerCase()}.m.`);
}

/** Return the day of "2026-07-01" as "Jul 1, 2026". */
export function shortDay(iso) {
  const [year, month, day] = iso.split("-").map(Number);
  const date = new Date(year, month - 1, day);
  return date.toLocaleDateString("en-US", { year: "numeric", month: "short", day: "numeric" });
}

const two = (number) => String(number).padStart(2, "0");

/** Return the phone's own day, such as "2026-07-01". */
export function today(now = new Date()) {
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
}

/** Return the phone's own time of day as a time field holds it: "15:05". */
export function timeOfDay(now = new Date()) {
  return `${two(now.getHours())}:${two(now.getMinutes())}`;
}

/** Return a moment by the phone's clock with its offset: "2026-07-01T15:05:09-04:00". */
export function stamp(now = new Date()) {
  const offset = -now.getTimezoneOffset();
  const [hours, minutes] = [Math.floor(Math.abs(offset) / 60), Math.abs(offset) % 60];
  const time = `${timeOfDay(now)}:${two(now.getSeconds())}`;
  return `${today(now)}T${time}${offset < 0 ? "-" : "+"}${two(hours)}:${two(minutes)}`;
}
