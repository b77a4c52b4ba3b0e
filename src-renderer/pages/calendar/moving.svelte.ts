/**
 * A block on its way to another planting week: where it would go, what that costs, and whether it was let go. The cost is
 * asked for once the week stands still; only the last answer counts.
 */
import type { CalendarView, MoveCost } from '../../../src-shared/calendar-view.ts'
import type { Problem } from '../../../src-shared/problem.ts'
import { showDate } from '../../../src-shared/show.ts'
import { call } from '../../engine/call.ts'
import { announce } from '../../ui/announce.svelte.ts'

export interface Moved {
  field: string
  variety: string
  /** Monday of the week in which the plan has it, ISO date. */
  from: string
  /** [acre] that the plan has there. */
  acres: number
}

/** [ms] for which a week must stand still before its cost is asked for. */
const still = 350
/** [s] that a cost may take: less would tell of a poor answer where the machine does other work. */
const seconds = 30

export class Moving {
  block = $state.raw<Moved | null>(null)
  /** Monday, ISO date. */
  to = $state('')
  isLetGo = $state(false)
  cost = $state.raw<MoveCost | null>(null)
  isWorking = $state(false)
  problems = $state.raw<readonly Problem[]>([])

  #timer: ReturnType<typeof setTimeout> | undefined
  /** Which question counts. */
  #turn = 0
  /** The question that the engine is at: it answers one at a time. */
  #asked: Promise<unknown> | null = null

  readonly #call: typeof call

  /** @param ask the engine's calls; another in tests */
  constructor(ask: typeof call = call) {
    this.#call = ask
  }

  isOf({ field, variety, from }: Moved): boolean {
    return this.block?.field === field && this.block.variety === variety && this.block.from === from
  }

  /** True where the week asked for is known to be impossible: it is not offered to be kept. */
  get isImpossible(): boolean {
    return this.cost !== null && this.cost.cents === null && this.cost.atLeastCents === null
  }

  get isElsewhere(): boolean {
    return this.block !== null && this.to !== this.block.from
  }

  /** A week chosen for a block; its cost follows. @param to Monday, ISO date */
  go(block: Moved, to: string): void {
    const isNew = !this.isOf(block)
    if (!isNew && to === this.to) return
    if (isNew) this.isLetGo = false
    this.block = block
    this.to = to
    this.cost = null
    this.problems = []
    this.isWorking = to !== block.from
    clearTimeout(this.#timer)
    const turn = ++this.#turn
    if (to !== block.from) this.#timer = setTimeout(() => void this.#ask(block, to, turn), still)
  }

  async #ask(block: Moved, to: string, turn: number): Promise<void> {
    if (this.#asked !== null) {
      // Both answers, or a late stop would end the next question.
      await Promise.all([this.#call('plan.stopWork', {}), this.#asked])
    }
    if (turn !== this.#turn) return
    const { field, variety, from } = block
    const asked = this.#call('calendar.move', { field, variety, from, to, seconds })
    this.#asked = asked
    const reply = await asked
    if (this.#asked === asked) this.#asked = null
    if (turn !== this.#turn) return
    this.isWorking = false
    this.cost = reply.ok ? reply.value : null
    this.problems = reply.ok ? [] : reply.problems
    announce(`Week of ${showDate(to)}: ${reply.ok ? reply.value.says : (reply.problems[0]?.what ?? '')}`)
  }

  /** The hand is taken off; with the block back where it was there is nothing to keep. */
  letGo(): void {
    if (this.isElsewhere) this.isLetGo = true
    else this.putBack()
  }

  putBack(): void {
    clearTimeout(this.#timer)
    this.#turn++
    if (this.#asked !== null) void this.#call('plan.stopWork', {})
    this.block = null
    this.to = ''
    this.cost = null
    this.problems = []
    this.isWorking = false
    this.isLetGo = false
  }
}

/**
 * The open planting week nearest to a day.
 * @param day ISO date
 * @returns Monday; null where nothing may be planted at all
 */
export function nearestWeek({ plantingWeeks }: Pick<CalendarView, 'plantingWeeks'>, day: string): string | null {
  const at = Date.parse(day)
  let best: string | null = null
  for (const week of plantingWeeks) {
    if (best === null || Math.abs(Date.parse(week) - at) < Math.abs(Date.parse(best) - at)) best = week
  }
  return best
}

/** The open week before or after another, or the first or last; the same where there is none. @param week Monday */
export function weekByKey(weeks: readonly string[], week: string, key: string): string | null {
  const first = weeks[0] ?? week
  const last = weeks.at(-1) ?? week
  if (key === 'ArrowRight' || key === 'ArrowUp') return weeks.find((each) => each > week) ?? week
  if (key === 'ArrowLeft' || key === 'ArrowDown') return weeks.findLast((each) => each < week) ?? week
  if (key === 'Home') return first
  return key === 'End' ? last : null
}
