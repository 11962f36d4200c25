// One shift after the other: what counts opens one, and seals that one, before the next is opened.

/** A shift open for longer than any night lasts was forgotten: it is asked about. */
export const LONG_SHIFT_MS = 20 * 3_600_000;

export type ShiftMark = {
  readonly id: string;
  readonly at: string;
  /** The business date it opened; null for a seal. */
  readonly date: string | null;
  /** The shift it seals; null for an opening. */
  readonly of: string | null;
};

/** The first opening or seal, in order, that does not fit; null when all do. */
export function brokenShift(
  marks: readonly ShiftMark[],
): { readonly id: string; readonly message: string } | null {
  let open: ShiftMark | null = null;
  for (const mark of marks) {
    if (mark.of === null) {
      if (open !== null)
        return {
          id: mark.id,
          message: `The shift of ${mark.date} opens while that of ${open.date} is open. Seal that one first, or take one of them back.`,
        };
      open = mark;
    } else {
      if (open === null || open.id !== mark.of)
        return {
          id: mark.id,
          message: `This seals a shift that is not the open one. Import the whole export.`,
        };
      open = null;
    }
  }
  return null;
}
