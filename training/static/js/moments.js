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
