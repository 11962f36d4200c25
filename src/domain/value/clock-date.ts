// Instants, the house's wall clock and the business date. An instant is UTC text with milliseconds; a date is the
// house's business date. Only Intl is used: no clock is read here.

/** Epoch milliseconds -> the form instants have in the books. */
export const instantOf = (epochMs: number): string => new Date(epochMs).toISOString();
export const epochOf = (instant: string): number => Date.parse(instant);

const rfc3339 = /^(\d{4})-(\d\d)-(\d\d)[Tt ](\d\d):(\d\d)(?::(\d\d)(?:\.\d{1,9})?)?([Zz]|[+-]\d\d:\d\d)$/;

/** RFC 3339 with an offset -> instant; null when it is not one or names a day or hour that does not exist. */
export function parseInstant(text: string): string | null {
  const match = rfc3339.exec(text.trim());
  if (match === null) return null;
  const [, year, month, day, hour, minute, second] = match.map(Number) as number[];
  const probe = new Date(
    Date.UTC(year ?? 0, (month ?? 0) - 1, day ?? 0, hour ?? 0, minute ?? 0, second || 0),
  );
  const exists =
    probe.getUTCMonth() + 1 === month && probe.getUTCDate() === day && probe.getUTCHours() === hour;
  const epoch = Date.parse(text.trim().replace(' ', 'T'));
  return exists && isInEra(epoch) ? instantOf(epoch) : null;
}

/** What a house can mean by a time: before, two digits were lost; after, an instant is written in another form. */
export const FIRST_DATE = '1970-01-01';
export const LAST_DATE = '9998-12-31';
const era = [Date.parse(FIRST_DATE), Date.parse(LAST_DATE) + 86_400_000 - 1] as const;
const isInEra = (epoch: number): boolean => epoch >= era[0] && epoch <= era[1];

/** An instant as the books have them, of a day and an hour that exist. */
export const isInstant = (text: string): boolean => {
  if (!written.test(text)) return false;
  const epoch = Date.parse(text);
  // Date.parse takes 30 February for the second of March.
  return isInEra(epoch) && new Date(epoch).getUTCDate() === Number(text.slice(8, 10));
};
const written = /^\d{4}-\d\d-\d\dT([01]\d|2[0-3]):[0-5]\d:[0-5]\d\.\d{3}Z$/;

export const isDate = (text: string): boolean =>
  /^\d{4}-\d\d-\d\d$/.test(text) && isInstant(`${text}T00:00:00.000Z`);

export type WallTime = {
  readonly date: string;
  readonly hour: number;
  readonly minute: number;
  readonly weekday: string;
};

const formats = new Map<string, Intl.DateTimeFormat>();

function formatIn(zone: string): Intl.DateTimeFormat {
  const known = formats.get(zone);
  if (known !== undefined) return known;
  const format = new Intl.DateTimeFormat('en-GB', {
    timeZone: zone,
    hourCycle: 'h23',
    year: 'numeric',
    month: '2-digit',
    day: '2-digit',
    hour: '2-digit',
    minute: '2-digit',
    weekday: 'short',
  });
  formats.set(zone, format);
  return format;
}

const walls = new Map<string, WallTime>();
const MOST_WALLS = 2000;

/** What the clock on the house's wall says at an instant. Kept by the minute, because every frame shows some. */
export function wallTime(instant: string, zone: string): WallTime {
  const key = `${instant.slice(0, 16)} ${zone}`;
  const known = walls.get(key);
  if (known !== undefined) return known;
  const wall = wallOf(instant, zone);
  if (walls.size >= MOST_WALLS) walls.clear();
  walls.set(key, wall);
  return wall;
}

const weekdayNames = ['Sun', 'Mon', 'Tue', 'Wed', 'Thu', 'Fri', 'Sat'];
const QUARTER = 900_000;
const offsets = new Map<string, number | null>();

/** How far a zone is from UTC over a whole quarter of an hour, ms; null when that changes within it. Asked of the platform once. */
function offsetIn(quarter: number, zone: string): number | null {
  if (quarter === lastAsked.quarter && zone === lastAsked.zone) return lastAsked.offset;
  const key = `${quarter} ${zone}`;
  const known = offsets.get(key) ?? freshOffset(key, quarter, zone);
  lastAsked = { quarter, zone, offset: known };
  return known;
}
/** Events come one after the other. */
let lastAsked: { quarter: number; zone: string; offset: number | null } = {
  quarter: Number.NaN,
  zone: '',
  offset: null,
};

function freshOffset(key: string, quarter: number, zone: string): number | null {
  const offsetAt = (epoch: number): number => minutesOf(askWall(epoch, zone)) * 60_000 - epoch;
  const [first, last] = [offsetAt(quarter * QUARTER), offsetAt((quarter + 1) * QUARTER - 60_000)];
  if (offsets.size >= MOST_WALLS) offsets.clear();
  offsets.set(key, first === last ? first : null);
  return first === last ? first : null;
}

function wallOf(instant: string, zone: string): WallTime {
  const epoch = epochOf(instant);
  const offset = offsetIn(Math.floor(epoch / QUARTER), zone);
  if (offset === null) return askWall(epoch, zone);
  const local = new Date(epoch + offset);
  return {
    date: local.toISOString().slice(0, 10),
    hour: local.getUTCHours(),
    minute: local.getUTCMinutes(),
    weekday: weekdayNames[local.getUTCDay()] ?? '',
  };
}

/** The hour on the house's wall, 0 to 23. */
export function wallHour(instant: string, zone: string): number {
  const epoch = epochOf(instant);
  const offset = offsetIn(Math.floor(epoch / QUARTER), zone);
  return offset === null ? askWall(epoch, zone).hour : Math.floor((epoch + offset) / HOUR) % 24;
}
const HOUR = 3_600_000;

function askWall(epoch: number, zone: string): WallTime {
  const parts = new Map(
    formatIn(zone)
      .formatToParts(epoch)
      .map((part) => [part.type, part.value]),
  );
  return {
    date: `${parts.get('year')}-${parts.get('month')}-${parts.get('day')}`,
    hour: Number(parts.get('hour')),
    minute: Number(parts.get('minute')),
    weekday: parts.get('weekday') ?? '',
  };
}

/** "01:30"; when the clocks went back and this time comes for the second time that night, "01:30 (2nd)". */
export function clockText(instant: string, zone: string): string {
  const { hour, minute } = wallTime(instant, zone);
  const text = `${String(hour).padStart(2, '0')}:${String(minute).padStart(2, '0')}`;
  return isRepeated(instant, zone) ? `${text} (2nd)` : text;
}

/** Clocks go back by an hour, on Lord Howe Island by half of one (IANA time zone database). */
const steps = [60, 30].map((minutes) => minutes * 60_000);

function isRepeated(instant: string, zone: string): boolean {
  const now = minutesOf(wallTime(instant, zone));
  return steps.some((back) => minutesOf(wallTime(instantOf(epochOf(instant) - back), zone)) === now);
}

const DAY = 86_400_000;
const minutesOf = (wall: WallTime): number =>
  Date.parse(`${wall.date}T00:00:00Z`) / 60_000 + wall.hour * 60 + wall.minute;

/**
 * "2026-11-20 22:41" on the house's wall -> an instant; null when it is no time. A time that comes twice is the first one, one
 * that is skipped is read with the offset before the gap (RFC 5545, 3.3.5).
 */
export function instantOfWall(text: string, zone: string): string | null {
  const match = /^(\d{4}-\d\d-\d\d)[ T](\d\d):(\d\d)(?::(\d\d))?$/.exec(text.trim());
  const [, date = '', hour, minute, second] = match ?? [];
  if (match === null || !isDate(date) || Number(hour) > 23 || Number(minute) > 59 || Number(second ?? 0) > 59)
    return null;
  const seconds = Number(second ?? 0) * 1000;
  const local = Date.parse(`${date}T${hour}:${minute}:00Z`);
  const offset = (epoch: number): number =>
    minutesOf(wallTime(instantOf(epoch), zone)) * 60_000 - Math.floor(epoch / 60_000) * 60_000;
  const before = local - offset(local - DAY);
  const after = local - offset(local + DAY);
  const says = (epoch: number): boolean => epoch + offset(epoch) === local;
  const fits = [before, after].filter(says);
  const epoch = (fits.length === 0 ? before : Math.min(...fits)) + seconds;
  return isInEra(epoch) ? instantOf(epoch) : null;
}

/** Whether the clock on the house's wall never showed a time of a date, because it was put forward over it. */
export function isSkipped(date: string, clock: string, zone: string): boolean {
  const at = instantOfWall(`${date} ${clock}`, zone);
  if (at === null) return false;
  const { hour, minute } = wallTime(at, zone);
  return `${String(hour).padStart(2, '0')}:${String(minute).padStart(2, '0')}` !== clock.slice(0, 5);
}

export function addDays(date: string, days: number): string {
  return instantOf(Date.parse(`${date}T00:00:00Z`) + days * DAY).slice(0, 10);
}

/**
 * The business date proposed for a shift opened at an instant: the day before when it is earlier than the cut-off
 * hour. Stored with the shift and never derived again (OMG/ARTS Retail ODM 7.3, BusinessDay).
 */
export function businessDate(instant: string, zone: string, cutOffHour: number): string {
  const wall = wallTime(instant, zone);
  return wall.hour < cutOffHour ? addDays(wall.date, -1) : wall.date;
}

const months = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'];
const weekdays = ['Sun', 'Mon', 'Tue', 'Wed', 'Thu', 'Fri', 'Sat'];

/** "2026-11-20" -> "Fri 20 Nov". */
export function dateText(date: string): string {
  const day = new Date(`${date}T00:00:00Z`);
  return `${weekdays[day.getUTCDay()]} ${day.getUTCDate()} ${months[day.getUTCMonth()]}`;
}

/** "Fri 20 Nov 22:40" on the house's wall. */
export const dayClockText = (instant: string, zone: string): string =>
  `${dateText(wallTime(instant, zone).date)} ${clockText(instant, zone)}`;

/** "22:40" on the house's wall: the last time it showed that, up to now. Null when it never did today or yesterday. */
export function lastWall(clock: string, now: string, zone: string): string | null {
  const { date } = wallTime(now, zone);
  for (const day of [date, addDays(date, -1)]) {
    const at = instantOfWall(`${day} ${clock}`, zone);
    if (at !== null && at <= now) return at;
  }
  return null;
}
