// What the books are called, and how long one waits for them.
export const BOOKS_FILE = 'books.sqlite';
export const BUSY_TIMEOUT_MS = 5000;
