/** A question asked of the plan: kept as a draft with a name that says it, solved, and set beside the plan in hand. */
import type { DraftRow, DraftSettings } from '../../../src-shared/draft.ts'
import type { Problem } from '../../../src-shared/problem.ts'
import type { Rule } from '../../../src-shared/rule.ts'
import { sayWhatIf, type WhatIf } from '../../../src-shared/what-if.ts'
import { beside } from '../../engine/beside.svelte.ts'
import { call } from '../../engine/call.ts'
import { saving } from '../../engine/saving.svelte.ts'
import { announce } from '../../ui/announce.svelte.ts'

/** Drafts beside the plan in hand; more would not be read. */
export const mostCompared = 2
const longestName = 80

const nothing: DraftSettings = { rulesOff: [], whatIfs: [] }

/** Rules that are off are kept by their row, not by their words: so they go on meaning it when a variety is renamed. */
export function withQuestion(settings: DraftSettings, whatIf: WhatIf): DraftSettings {
  if (whatIf.kind !== 'rule-off') return { ...settings, whatIfs: [...settings.whatIfs, whatIf] }
  const { kind: _, ...rule } = whatIf
  return { ...settings, rulesOff: [...settings.rulesOff, rule] }
}

/** The name, as much of it as there is room for, and a number where it is taken. */
export function freeName(wanted: string, taken: readonly string[]): string {
  const isTaken = (name: string) => taken.some((each) => each.toLowerCase() === name.toLowerCase())
  const short = (room: number) => (wanted.length <= room ? wanted : `${wanted.slice(0, room - 1).trimEnd()}…`)
  for (let n = 1; ; n += 1) {
    const after = n === 1 ? '' : ` (${n})`
    const name = short(longestName - after.length) + after
    if (!isTaken(name)) return name
  }
}

function same(a: DraftSettings, b: DraftSettings): boolean {
  const text = ({ riskWeight, rulesOff, whatIfs }: DraftSettings) =>
    JSON.stringify([riskWeight ?? null, rulesOff, whatIfs])
  return text(a) === text(b)
}

class Asking {
  problems = $state.raw<readonly Problem[]>([])
  /** Drafts that stand beside the plan in hand, by id. */
  compared = $state.raw<readonly number[]>([])
  /** The draft that was asked or solved last. */
  asked = $state<number | null>(null)

  /** Asks it of the season as it stands: the draft that asks the same is solved again, else one is made. */
  ask(whatIf: WhatIf, drafts: readonly DraftRow[], rules: readonly Rule[]): Promise<void> {
    return this.#solveWith(withQuestion(nothing, whatIf), sayWhatIf(whatIf, rules), drafts)
  }

  /** What a dollar of expected loss counts. */
  weigh(riskWeight: number, drafts: readonly DraftRow[]): Promise<void> {
    const says = `A dollar of expected loss counts as ${riskWeight} dollars of cash`
    return this.#solveWith({ ...nothing, riskWeight }, says, drafts)
  }

  async #solveWith(settings: DraftSettings, says: string, drafts: readonly DraftRow[]): Promise<void> {
    const asked = drafts.find((draft) => same(draft.settings, settings))
    if (asked) return this.solve(asked)
    const name = freeName(
      says.replace(/\.$/, ''),
      drafts.map((draft) => draft.name),
    )
    const reply = await saving.change('draft.save', { name, settings })
    this.problems = reply.ok ? [] : reply.problems
    if (reply.ok) await this.solve({ id: reply.value, name })
  }

  /** Asks it on top of what a draft has already. */
  async askOf(draft: DraftRow, change: (settings: DraftSettings) => DraftSettings): Promise<void> {
    const { id, name } = draft
    const reply = await saving.change('draft.save', { id, name, settings: change(draft.settings) })
    this.problems = reply.ok ? [] : reply.problems
    if (reply.ok) await this.solve({ id, name })
  }

  async solve({ id, name }: Pick<DraftRow, 'id' | 'name'>): Promise<void> {
    this.compare(id)
    this.asked = id
    if (!(await beside.solveDraft(id, name))) return
    const reply = await call('draft.list', {})
    const own = reply.ok ? reply.value.find((draft) => draft.id === id) : undefined
    announce(`${name}: ${own?.plan?.proof.says ?? 'no plan'}`)
  }

  /** The newest goes first, the one looked at longest makes room. */
  compare(id: number): void {
    this.compared = [id, ...this.compared.filter((each) => each !== id)].slice(0, mostCompared)
  }

  leave(id: number): void {
    this.compared = this.compared.filter((each) => each !== id)
  }
}

export const asking = new Asking()
