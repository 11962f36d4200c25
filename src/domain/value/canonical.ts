// One text for one value, whatever the order its keys were made in: for the hash chain and for "is this the same?".
// After RFC 8785 (JSON Canonicalization Scheme, 2020), 3.2.3; our values are strings, integers, decimals, lists, records.

export function canonicalJson(value: unknown): string {
  if (value === null || typeof value !== 'object') return JSON.stringify(value);
  if (Array.isArray(value)) {
    let text = '[';
    for (const inner of value) text += `${text === '[' ? '' : ','}${canonicalJson(inner)}`;
    return `${text}]`;
  }
  const record = value as Readonly<Record<string, unknown>>;
  let text = '{';
  for (const key of Object.keys(record).sort()) {
    const inner = record[key];
    if (inner !== undefined)
      text += `${text === '{' ? '' : ','}${JSON.stringify(key)}:${canonicalJson(inner)}`;
  }
  return `${text}}`;
}
