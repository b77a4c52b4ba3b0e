/** How a file of SQLite begins; https://www.sqlite.org/fileformat.html, section 1.3. */

/** @param start at least 16 bytes from the beginning; fewer are none */
export function isSqlite(start: Buffer): boolean {
  return start.toString('latin1', 0, 16) === 'SQLite format 3\0'
}
