// What a seal and a backup say of the mark of the books.
export const markLine = (mark: string): string =>
  `Mark of the books: ${mark}\nKeep it elsewhere: ullage check --mark MARK proves from it that nothing up to here was changed.`;
