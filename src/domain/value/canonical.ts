// One text for one value, whatever the order its keys were made in: for the hash chain and for "is this the same?".
// After RFC 8785 (JSON Canonicalization Scheme, 2020), 3.2.3; our values are strings, integers, decimals, lists, records.

export function canonicalJson(value: unknown): string {
  const odd = { met: false };
  const made = ordered(value, odd);
  return odd.met ? written(value) : JSON.stringify(made);
}

/** A record keeps its keys as they were made, but for those that look like numbers and the one that sets its prototype. */
const isOdd = (key: string): boolean => (key >= '0' && key < ':') || key === '__proto__';

/** The same value with its keys made in order. It is half the work of writing it key by key. */
function ordered(value: unknown, odd: { met: boolean }): unknown {
  if (value === null || typeof value !== 'object') return value;
  if (Array.isArray(value)) return value.map((inner) => ordered(inner, odd));
  const record = value as Readonly<Record<string, unknown>>;
  const made: Record<string, unknown> = {};
  for (const key of Object.keys(record).sort()) {
    if (isOdd(key)) odd.met = true;
    made[key] = ordered(record[key], odd);
  }
  return made;
}

function written(value: unknown): string {
  if (value === null || typeof value !== 'object') return JSON.stringify(value);
  if (Array.isArray(value)) return `[${value.map(written).join(',')}]`;
  const record = value as Readonly<Record<string, unknown>>;
  const parts = Object.keys(record)
    .sort()
    .flatMap((key) => (record[key] === undefined ? [] : `${JSON.stringify(key)}:${written(record[key])}`));
  return `{${parts.join(',')}}`;
}
