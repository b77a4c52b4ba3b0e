/** A farm's file under another name or in another folder, with its backups: all of it, or as it was. */
import { copyFileSync, mkdirSync, readdirSync, renameSync, rmSync, rmdirSync, statSync } from 'node:fs'
import { basename, dirname, join } from 'node:path'
import { ProblemError, valueOf } from '../../../src-shared/problem.ts'
import { backupFolder, farmEnding, photoFolder } from '../backup-path.ts'
import { fileProblem, onDisk } from '../db/disk-problem.ts'
import { farmOfCopy, flush, flushFolder } from '../db/copy.ts'
import { markOf } from '../db/mark.ts'
import type { Engine } from '../engine.ts'
import { openFarm, type OpenFarm } from '../farm-file.ts'
import { safeName } from '../farm-name.ts'
import { stopSolving } from '../planning.ts'
import { farmAtHand, rememberFarm } from '../recent.ts'
import { clearName, isThere, moveWithoutReplacing } from './beside.ts'
import { letGoWhole } from './closing.ts'

export const withEnding = (path: string) => (path.endsWith(farmEnding) ? path : `${path}${farmEnding}`)

/** Under another name in the same folder; see `moveTo`. */
export function renameFarm(engine: Engine, name: string): OpenFarm {
  return moveTo(engine, join(dirname(farmAtHand(engine).path), `${safeName(name)}${farmEnding}`))
}

/** The farm at another place or under another name, with its backups, and open. Never in place of a file that is there. */
export function moveTo(engine: Engine, to: string): OpenFarm {
  const farm = farmAtHand(engine)
  const { path } = farm
  const target = withEnding(to)
  if (target === path) return farm
  if (farm.refusal !== null) throw new ProblemError([farm.refusal])
  return onDisk(target, () => {
    mustBeFree(farm, target)
    stopSolving(engine)
    const reopen = (at: string) => {
      engine.farm = valueOf(openFarm(at))
      rememberFarm(engine.home, engine.farm.path)
    }
    letGoWhole(engine, () => reopen(path))
    let at = path
    try {
      clearName(target)
      carryAll(path, target)
      at = target
    } finally {
      reopen(at)
    }
    return farmAtHand(engine)
  })
}

/** Backups that lie there already may be this farm's, as after a move that was cut short; those of another are in the way. */
function mustBeFree({ path, connection }: OpenFarm, target: string): void {
  if (isThere(target)) {
    const what = `There is a farm file “${basename(target)}” already.`
    const remedy = 'Choose another name; a file is never replaced.'
    throw new ProblemError([{ code: 'repeated-name', what, where: { file: basename(target) }, remedy }])
  }
  const folder = backupFolder(target)
  if (!isThere(folder)) return
  const own = markOf(connection)?.farmId
  const isStrange = (name: string) =>
    name.endsWith(farmEnding) &&
    (farmOfCopy(join(folder, name)) ?? 'unknown') !== own &&
    sizeOf(join(folder, name)) !== sizeOf(join(backupFolder(path), name))
  if (!readdirSync(folder).some(isStrange)) return
  const what = `There are backups of another farm called “${basename(target, farmEnding)}”.`
  const remedy = 'Choose another name, so that the backups of the two stay apart.'
  throw new ProblemError([{ code: 'repeated-name', what, where: { file: basename(target) }, remedy }])
}

const sizeOf = (path: string) => statSync(path, { throwIfNoEntry: false })?.size

interface Step {
  from: string
  to: string
}

/** The backups, then the file itself; where the disk is another they are copied, and only then taken from here. */
function carryAll(path: string, target: string): void {
  const isSameDisk = statSync(path).dev === statSync(dirname(target)).dev
  const steps = stepsTo(path, target, isSameDisk)
  const done: Step[] = []
  try {
    for (const folder of new Set(steps.map(({ to }) => dirname(to))))
      mkdirSync(folder, { recursive: true, mode: 0o700 })
    for (const step of steps) {
      // A picture is named by its hash: where it is there already, it is the same.
      if (isPicture(step.to) && isThere(step.to)) continue
      if (isSameDisk) place(step)
      else copyOver(step)
      done.push(step)
    }
    for (const folder of new Set(steps.flatMap(({ from, to }) => [dirname(from), dirname(to)]))) flushFolder(folder)
  } catch (error) {
    for (const step of done.reverse()) takeBack(step, isSameDisk)
    for (const folder of [photoFolder(target), backupFolder(target)]) dropEmpty(folder)
    throw error
  }
  removeOld(path, target, isSameDisk ? steps.filter(({ from }) => isPicture(from)) : steps)
  for (const folder of [photoFolder(path), backupFolder(path)]) dropEmpty(folder)
}

/** The farm's file comes last: until it is there, the farm is where it was. */
function stepsTo(path: string, target: string, isSameDisk: boolean): Step[] {
  const [from, to] = [backupFolder(path), backupFolder(target)]
  // Pictures lie in a folder of their own among them.
  const names = isThere(from)
    ? readdirSync(from, { recursive: true, encoding: 'utf8' }).filter((name) => isFile(join(from, name)))
    : []
  const one = isSameDisk && names.length > 0 && !isThere(to)
  const backups = one ? [{ from, to }] : names.map((name) => ({ from: join(from, name), to: join(to, name) }))
  const seal = isThere(`${path}.sha256`) ? [{ from: `${path}.sha256`, to: `${target}.sha256` }] : []
  return [...backups, ...seal, { from: path, to: target }]
}

const isFile = (path: string) => statSync(path, { throwIfNoEntry: false })?.isFile() === true

const isPicture = (path: string) => basename(dirname(path)) === 'pictures'

function place({ from, to }: Step): void {
  if (isThere(to)) throw taken(to)
  renameSync(from, to)
}

function taken(path: string): ProblemError {
  const what = `There is a file “${basename(path)}” there already.`
  const remedy = 'Move it elsewhere first; a file is never replaced.'
  return new ProblemError([{ code: 'repeated-name', what, where: { file: basename(path) }, remedy }])
}

/** Onto another disk nothing can be renamed: copied and flushed beside its name, then given the name. */
function copyOver({ from, to }: Step): void {
  const building = `${to}.part`
  try {
    copyFileSync(from, building)
    flush(building)
    if (!moveWithoutReplacing(building, to)) throw taken(to)
  } catch (error) {
    rmSync(building, { force: true })
    throw error
  }
}

function takeBack({ from, to }: Step, isSameDisk: boolean): void {
  try {
    if (isSameDisk) renameSync(to, from)
    else rmSync(to, { force: true })
  } catch {
    // The disk refuses this as well: what is there is whole, under the one name or the other.
  }
}

/** What was copied is removed here, the farm first: of two that are alike one would be worked on by mistake. */
function removeOld(path: string, target: string, steps: readonly Step[]): void {
  try {
    for (const { from } of steps.toReversed()) rmSync(from, { force: true })
    if (steps.length > 0) flushFolder(dirname(path))
  } catch (error) {
    if (!isThere(path)) return
    const problem = fileProblem(path, error)
    const remedy = `Delete “${basename(path)}” in its old folder yourself; the farm is open as “${basename(target)}”.`
    throw new ProblemError([
      { ...problem, what: `The farm was copied, and not taken away here: ${problem.what}`, remedy },
    ])
  }
}

function dropEmpty(folder: string): void {
  try {
    if (isThere(folder) && readdirSync(folder).length === 0) rmdirSync(folder)
  } catch {
    // An empty folder is in nobody's way.
  }
}
