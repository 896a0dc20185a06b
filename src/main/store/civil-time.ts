/** When something is played by the clock on the wall there: a take keeps it, so that no later clock moves it to another day. */

export interface CivilTime {
  /** Days since 1 January 1970 on the calendar of the place. */
  readonly day: number;
  /** Minutes since midnight, as the clock shows them. */
  readonly minute: number;
  /** The name of the zone in the IANA database; null where it is not known. */
  readonly zone: string | null;
}

const DAY_MS = 86_400_000;
/** From the year 1 to the year 9999. */
const [EARLIEST_MS, LATEST_MS] = [-62_135_000_000_000, 253_370_764_800_000];

const HERE = Intl.DateTimeFormat().resolvedOptions().timeZone;
const clocks = new Map<string, Intl.DateTimeFormat>();

/** The wall clock at a moment, ms since 1970; that of this machine unless another zone is named. Throws a `RangeError` for no zone. */
export function civilTimeAt(atMs: number, zone: string = HERE): CivilTime {
  const parts = clockOf(zone).formatToParts(Math.min(Math.max(atMs, EARLIEST_MS), LATEST_MS));
  const part = (type: Intl.DateTimeFormatPartTypes): number =>
    Number(parts.find((one) => one.type === type)?.value ?? 0);
  // Years before 100 would be taken for those of the last century.
  const date = new Date(0).setUTCFullYear(part('year'), part('month') - 1, part('day'));
  return { day: date / DAY_MS, minute: part('hour') * 60 + part('minute'), zone };
}

/** No calendar is further from that of this place. */
const MOST_DAYS_AWAY = 2;

/** What was kept with a moment of the wall clock there, unless it is none of that moment; else the wall clock of this machine. */
export function keptCivilTime(
  atMs: number,
  { day, minute, zone }: Readonly<Partial<Record<keyof CivilTime, unknown>>>,
): CivilTime {
  const here = civilTimeAt(atMs);
  if (typeof day !== 'number' || typeof minute !== 'number') return here;
  if (Math.abs(day - here.day) > MOST_DAYS_AWAY) return here;
  return { day, minute, zone: typeof zone === 'string' ? zone : null };
}

function clockOf(zone: string): Intl.DateTimeFormat {
  const known = clocks.get(zone);
  if (known !== undefined) return known;
  const clock = new Intl.DateTimeFormat('en', {
    ...{ timeZone: zone, calendar: 'gregory', hourCycle: 'h23' },
    ...{ year: 'numeric', month: 'numeric', day: 'numeric', hour: 'numeric', minute: 'numeric' },
  });
  clocks.set(zone, clock);
  return clock;
}
