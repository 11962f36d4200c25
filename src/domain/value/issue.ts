// What a schema found wrong, in words of our own: the library's reach nobody.

type Issue = {
  readonly code?: string;
  readonly path: readonly PropertyKey[];
  readonly message: string;
  readonly minimum?: number | bigint;
  readonly maximum?: number | bigint;
  readonly expected?: string;
  readonly values?: readonly unknown[];
  readonly keys?: readonly string[];
  readonly origin?: string;
};

const MOST_VALUES = 8;

/** "place: is too short" and the like: the first thing that is wrong, with where it stands. */
export function issueText(issues: readonly Issue[], whole: string): string {
  const [issue] = issues;
  if (issue === undefined) return `${whole}: is not right`;
  const where = issue.path.length === 0 ? whole : issue.path.map(String).join('.');
  return `${where}: ${wordsOf(issue)}`;
}

const isLong = (issue: Issue): boolean => issue.origin === 'string' || issue.origin === 'array';

function wordsOf(issue: Issue): string {
  switch (issue.code) {
    case 'too_small':
      return isLong(issue) ? `is shorter than ${issue.minimum}` : `is below ${issue.minimum}`;
    case 'too_big':
      return isLong(issue) ? `is longer than ${issue.maximum}` : `is above ${issue.maximum}`;
    case 'invalid_type':
      return `is missing or is no ${issue.expected === 'int' ? 'whole number' : (issue.expected ?? 'value')}`;
    case 'invalid_value':
      return `is none of ${(issue.values ?? []).slice(0, MOST_VALUES).join(', ')}`;
    case 'unrecognized_keys':
      return `has a field nobody knows (${(issue.keys ?? []).slice(0, MOST_VALUES).join(', ')})`;
    case 'invalid_union':
      return 'is of no known kind';
    case 'invalid_format':
      // The pattern's own words are ours already.
      return issue.message === 'Invalid input'
        ? 'is not written as it should be'
        : `must be ${issue.message}`;
    case 'custom':
      return `must be ${issue.message}`;
    default:
      return 'is not right';
  }
}
