/** Local time with its offset, to the second: `2026-11-28T10:02:11+01:00`. The offset is kept as it stood. */
export function localTime(instant = new Date()) {
  const away = -instant.getTimezoneOffset();
  const two = (number) => String(Math.trunc(Math.abs(number))).padStart(2, "0");
  const day = `${String(instant.getFullYear()).padStart(4, "0")}-${two(instant.getMonth() + 1)}-${two(instant.getDate())}`;
  const time = `${two(instant.getHours())}:${two(instant.getMinutes())}:${two(instant.getSeconds())}`;
  return `${day}T${time}${away < 0 ? "-" : "+"}${two(away / 60)}:${two(away % 60)}`;
}

/** The zone's name as the device has it: a hint for people, never used to compute. */
export function zoneName() {
  try {
    return Intl.DateTimeFormat().resolvedOptions().timeZone || "";
  } catch {
    return "";
  }
}
