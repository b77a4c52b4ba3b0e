/** What is asked about a table, once for each word, scale or column, and how answers are kept. Plain data. */
import { plainName } from './tokens.ts'

/** [text] of a choice that leaves cells empty. */
export const leaveEmpty = ''

export interface Question {
  /** As the answer is kept: of a word for every table, of anything else for its table. */
  key: string
  /** word: kept on this machine and used again; table: holds for this table. */
  scope: 'word' | 'table'
  /** The whole question in words. */
  says: string
  /** Heading of the column, or empty. */
  header: string
  /** Cells that wait for it. */
  cells: number
  /** Empty where any text can be typed. */
  answers: { value: string; says: string }[]
  /** What it most likely is, to be accepted or changed. */
  suggestion: string | null
}

/** One word as it was read, asked about or known, so that it can be seen and changed. */
export interface WordRead {
  key: string
  word: string
  header: string
  cells: number
  /** What it was taken for; null where it waits for an answer. */
  value: string | null
  choices: readonly string[]
}

/** Answers that were given before, by the key of their question. */
export type Answers = Readonly<Record<string, string>>

export const wordKey = (kind: string, word: string) => `word/${kind}/${plainWord(word)}`

/** Of a heading that was chosen or confirmed: its answer is the id of a column, or empty to leave it out. */
export const headingKey = (noun: string, heading: string) => `heading/${noun}/${plainName(heading)}`

/** Two spellings of one word: but for capitals, blanks and marks at its ends. */
export function plainWord(text: string): string {
  return text
    .normalize('NFKC')
    .toLowerCase()
    .replace(/[’‘`]/g, "'")
    .replace(/\s+/g, ' ')
    .replace(/^[\s"'(*]+|[\s"'),.;:!*]+$/g, '')
}
