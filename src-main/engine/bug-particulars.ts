/**
 * What errors.log keeps of a bug: its kind, its code, a phrase of the runtime's own and the places in our code. A message may hold a
 * name of the farm or a path of the machine, so no message is kept, and nothing that is not built from a fixed list.
 */

const kinds = new Set([
  'Error',
  'AggregateError',
  'AssertionError',
  'EvalError',
  'ProblemError',
  'RangeError',
  'ReferenceError',
  'SqliteError',
  'SyntaxError',
  'TypeError',
  'URIError',
  'ValiError',
])

/** What the runtime and SQLite say before they name a value. */
const phrases = [
  'Cannot read properties of undefined',
  'Cannot read properties of null',
  'Cannot set properties of undefined',
  'Cannot set properties of null',
  'Cannot convert undefined or null to object',
  'Assignment to constant variable',
  'Invalid array length',
  'Invalid string length',
  'Invalid time value',
  'Maximum call stack size exceeded',
  'Reduce of empty array with no initial value',
  'The database connection is not open',
  'cannot start a transaction within a transaction',
  'database is locked',
  'no such column',
  'no such table',
  'CHECK constraint failed',
  'FOREIGN KEY constraint failed',
  'NOT NULL constraint failed',
  'UNIQUE constraint failed',
  'is not a function',
  'is not defined',
  'is not iterable',
]

/** Kind, code, phrase and places, a line each. Never throws. */
export function particularsOf(error: unknown): string {
  if (!(error instanceof Error)) return typeof error
  const { code } = error as { code?: unknown }
  const kind = kinds.has(error.name) ? error.name : 'Error'
  const head = typeof code === 'string' && /^[A-Z][A-Z0-9_]{2,40}$/.test(code) ? `${kind} ${code}` : kind
  const message = String(error.message)
  const phrase = phrases.find((each) => message.startsWith(each) || message.endsWith(` ${each}`))
  return [phrase === undefined ? head : `${head}: ${phrase}`, ...placesOf(error.stack, message)].join('\n')
}

/** The stack behind the message: lines of a message can look like places. */
function placesOf(stack: unknown, message: string): string[] {
  if (typeof stack !== 'string') return []
  const at = stack.indexOf(message)
  if (at < 0) return []
  return stack
    .slice(at + message.length)
    .split('\n')
    .map(placeOf)
    .filter((place) => place !== null)
}

/** Folders of the program; a file of a person lies in none of them. */
const own =
  /(?:^|[\\/])(?:src-main|src-shared|migrations|node_modules|out|tests)[\\/](?:[^\\/]+[\\/])*([\w.-]+\.(?:ts|js|mjs|cjs|svelte))$/
const frame = /^\s+at (?:.* \()?(?:file:\/\/)?((?:[A-Za-z]:)?[\\/].+|node:.+):(\d+):(\d+)\)?$/

/** File and line alone: a function can be named after a key, and so after a field. */
function placeOf(line: string): string | null {
  const [, path = '', row, column] = frame.exec(line) ?? []
  const file = own.exec(path)?.[1] ?? (/^node:[a-z_/]+$/.test(path) ? path : undefined)
  return file === undefined ? null : `    at ${file}:${row}:${column}`
}
