/** The command that imports spreadsheets and boundaries into a farm file, through the engine’s one door: one step to undo a kind. */
import { existsSync, readFileSync, statSync } from 'node:fs'
import { basename } from 'node:path'
import * as v from 'valibot'
import { fail, ok, ProblemError, type Problem, type Result } from '../../src-shared/problem.ts'
import { wordsOf } from '../../src-shared/recognize/nouns.ts'
import {
  fates,
  isBoundaryFile,
  lookSchema,
  type BoundaryPreview,
  type ImportSeen,
  type TableLook,
  type Taken,
} from '../../src-shared/sheet/bring-in.ts'
import { asJson, onFarm, type Must } from './cli-farm.ts'
import { dataHome } from './home.ts'

export interface ImportOptions {
  dryRun: boolean
  json: boolean
  /** Answer with what is suggested. */
  accept: boolean
  /** Take what is good. */
  leave: boolean
  /** Path of a file with answers and choices. */
  answers?: string | undefined
  readFile: (path: string) => Result<unknown>
}

const answersSchema = v.strictObject({
  answers: lookSchema.entries.answers,
  choices: lookSchema.entries.choices,
})

type Given = v.InferOutput<typeof answersSchema>
type NamedFile = { name: string; base64: string }

/** [byte] As the window takes them. */
const mostBytes = 20 * 1024 * 1024

/** @returns what is printed, and whether all of it came in or would */
export async function importCommand(
  farm: string,
  paths: readonly string[],
  options: ImportOptions,
): Promise<Result<{ text: string; isWhole: boolean }>> {
  let given: Given = { answers: {}, choices: {} }
  if (options.answers !== undefined) {
    const json = options.readFile(options.answers)
    if (!json.ok) return json
    const parsed = v.safeParse(answersSchema, json.value)
    if (!parsed.success) {
      const where = { file: basename(options.answers) }
      return fail({
        code: 'bad-file',
        what: 'This is not a file of answers.',
        where,
        remedy: 'It holds {"answers": {...}, "choices": {...}}.',
      })
    }
    given = parsed.output
  }
  const files: NamedFile[] = []
  for (const path of paths) {
    const file = readBytes(path)
    if (!file.ok) return file
    files.push(file.value)
  }
  let isWhole = true
  const done = await onFarm(
    farm,
    async (must) => {
      const result = await work(must, files, given, options)
      isWhole = result.isWhole
      return options.json ? asJson(result) : importText(result)
    },
    dataHome(),
  )
  return done.ok ? ok({ text: done.value, isWhole }) : done
}

function readBytes(path: string): Result<NamedFile> {
  const file = basename(path)
  const wrong = (what: string, remedy: string): Result<never> =>
    fail({ code: 'bad-file', what, where: { file }, remedy })
  if (!existsSync(path)) return wrong('The file is not there.', 'Check the path.')
  const stat = statSync(path)
  if (!stat.isFile()) return wrong('This is not a file.', 'Give the path of a file.')
  if (stat.size > mostBytes) return wrong('The file is larger than 20 MB.', 'Import a part of it.')
  return ok({ name: file, base64: readFileSync(path).toString('base64') })
}

interface ImportResult extends ImportSeen {
  boundaries: (BoundaryPreview & { file: string })[]
  isDone: boolean
  isWhole: boolean
  isDryRun: boolean
}

async function work(
  must: Must,
  files: readonly NamedFile[],
  given: Given,
  options: ImportOptions,
): Promise<ImportResult> {
  const maps = files.filter(({ name }) => isBoundaryFile(name))
  const tables = files.filter(({ name }) => !isBoundaryFile(name))
  const out: ImportResult = {
    tables: [],
    problems: [],
    boundaries: [],
    isDone: false,
    isWhole: true,
    isDryRun: options.dryRun,
  }
  if (tables.length > 0) {
    const input = { files: tables, withValues: options.json, ...given }
    let seen = await must('import.look', input)
    // An answer may lead to another question.
    for (
      let round = 0;
      options.accept &&
      round < 5 &&
      seen.tables.some(({ questions }) => questions.some(({ suggestion }) => suggestion !== null));
      round += 1
    ) {
      accept(input, seen.tables)
      seen = await must('import.look', input)
    }
    Object.assign(out, seen)
    out.isWhole =
      seen.problems.length === 0 &&
      seen.tables.every(({ questions, counts }) => questions.length === 0 && counts.refused === 0)
    if (!options.dryRun && (out.isWhole || options.leave)) {
      const { withValues: _, ...taking } = input
      const taken: Taken = await must('import.apply', { ...taking, onlyGood: options.leave })
      out.isDone = taken.isDone
    }
  }
  // After the fields that they belong to.
  for (const file of maps) {
    try {
      const seen = await must('boundary.look', { file })
      out.boundaries.push({ file: file.name, ...seen })
      const isGood = seen.counts.refused === 0
      out.isWhole &&= isGood
      if (!options.dryRun && (isGood || options.leave)) {
        const { isDone } = await must('boundary.apply', { file, onlyGood: options.leave, setAcres: false })
        out.isDone ||= isDone
      }
    } catch (error) {
      if (!(error instanceof ProblemError)) throw error
      out.problems.push(...error.problems)
      out.isWhole = false
    }
  }
  if (out.problems.length > 0 && out.tables.length + out.boundaries.length === 0)
    throw new ProblemError(out.problems as Problem[])
  return out
}

/** Every question that has a likely answer is answered with it. */
function accept(input: Given, tables: readonly TableLook[]): void {
  for (const { key, questions } of tables) {
    for (const { key: question, scope, suggestion } of questions) {
      if (suggestion === null) continue
      if (scope === 'word') input.answers = { ...input.answers, [question]: suggestion }
      else {
        const own = input.choices[key] ?? { answers: {} }
        const changed =
          question === 'noun'
            ? { ...own, noun: suggestion as never }
            : { ...own, answers: { ...own.answers, [question]: suggestion } }
        input.choices = { ...input.choices, [key]: changed }
      }
    }
  }
}

function importText(result: ImportResult): string {
  const lines: string[] = []
  for (const problem of result.problems) lines.push(`${problem.where?.file ?? ''}: ${problem.what} ${problem.remedy}`)
  for (const table of result.tables) lines.push(...tableText(table), '')
  for (const { file, rows, counts } of result.boundaries) {
    lines.push(`${file}: boundaries, ${countsText(counts)}`)
    for (const { row, name, fate, what, remedy } of rows) {
      if (fate === 'refused') lines.push(`  ${row} ${name}: ${what} ${remedy}`)
      else if (fate === 'blank' && what !== '') lines.push(`  ${row} ${name}, set aside: ${what}`)
    }
    lines.push('')
  }
  if (result.isDryRun) lines.push('A dry run: nothing was written.')
  else if (result.isDone) lines.push(result.isWhole ? 'Imported.' : 'Imported, but for what is named above.')
  else
    lines.push(
      'Nothing was written. Answer what is asked (--answers, or --accept for what is likely), correct the file, or add --leave.',
    )
  return `${lines.join('\n')}\n`
}

function tableText({
  file,
  page,
  noun,
  columns,
  choices,
  questions,
  words,
  rows,
  counts,
  leftCells,
  newDealers,
  aside,
}: TableLook): string[] {
  const place = page === null ? file : `${file}, ${page}`
  if (noun === null) return [`${place}: not recognized; left out`]
  const label = (id: string) => choices.find((each) => each.id === id)?.label ?? id
  const lines = [`${place}: ${wordsOf(noun).many}, ${countsText(counts)}`]
  for (const { heading, id, says } of columns)
    lines.push(
      `  ${heading || '(no heading)'} → ${id === null ? 'left out' : label(id)}${says === '' ? '' : `, ${says}`}`,
    )
  if (aside.length > 0) lines.push(`  set aside: ${aside.map(({ row, why }) => `row ${row} (${why})`).join(', ')}`)
  if (newDealers.length > 0) lines.push(`  new dealers: ${newDealers.join(', ')}`)
  for (const { word, value, cells } of words)
    if (value !== null)
      lines.push(`  “${word}” → ${value === '' ? 'left empty' : value} (${cells} ${cells === 1 ? 'cell' : 'cells'})`)
  for (const { says, cells, suggestion, key } of questions)
    lines.push(
      `  asked: ${says} (${cells} ${cells === 1 ? 'cell' : 'cells'}${suggestion === null ? '' : `; likely: ${suggestion}`}) [${key}]`,
    )
  const said = new Map<string, number[]>()
  const say = (row: number, text: string) => said.set(text, [...(said.get(text) ?? []), row])
  for (const { row, fate, problems, left } of rows) {
    const named = (column: number) => (column < 0 ? '' : `${columns[column]?.heading ?? ''}: `)
    if (fate === 'refused')
      say(row, ` refused: ${problems.map(({ column, what, remedy }) => `${named(column)}${what} ${remedy}`).join(' ')}`)
    else for (const { column, what } of left) say(row, `, left empty: ${named(column)}${what}`)
  }
  for (const [text, own] of said) lines.push(`  ${rowsText(own)}${text}`)
  if (leftCells > 0) lines.push(`  ${leftCells} ${leftCells === 1 ? 'cell' : 'cells'} left empty`)
  return lines
}

/** row 4 · rows 2–6, 9 */
function rowsText(rows: readonly number[]): string {
  const runs: [number, number][] = []
  for (const row of rows) {
    const last = runs.at(-1)
    if (last && row === last[1] + 1) last[1] = row
    else runs.push([row, row])
  }
  const text = runs.map(([from, to]) => (from === to ? `${from}` : `${from}–${to}`)).join(', ')
  return `${rows.length === 1 ? 'row' : 'rows'} ${text}`
}

const countsText = (counts: TableLook['counts']) =>
  fates
    .filter((fate) => counts[fate] > 0)
    .map((fate) => `${counts[fate].toLocaleString('en-US')} ${fate}`)
    .join(', ') || 'no rows'
