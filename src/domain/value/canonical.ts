// One text for one value, whatever the order its keys were made in: for the hash chain and for "is this the same?".
// After RFC 8785 (JSON Canonicalization Scheme, 2020), 3.2.3; our values are strings, integers, decimals, lists, records.

export function canonicalJson(value: unknown): string {
  if (Array.isArray(value)) return `[${value.map(canonicalJson).join(',')}]`;
  if (value === null || typeof value !== 'object') return JSON.stringify(value);
  const entries = Object.entries(value)
    .filter(([, inner]) => inner !== undefined)
    .sort(([a], [b]) => (a < b ? -1 : 1));
  return `{${entries.map(([key, inner]) => `${JSON.stringify(key)}:${canonicalJson(inner)}`).join(',')}}`;
}
