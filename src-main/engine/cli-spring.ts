/**
 * The commands of spring on a farm file: receive, rates, trace. They go through the engine's one door, so that what they
 * write is one transaction and can be taken back in the window.
 */
import * as v from 'valibot'
import { deliveryFileSchema, type DeliveryFile, type SpringVerb } from '../../src-shared/delivery-file.ts'
import { receiptWords, type DeliveriesNow } from '../../src-shared/delivery.ts'
import { isoDate } from '../../src-shared/primitive.ts'
import { fail, ProblemError, valueOf, type Problem, type Result } from '../../src-shared/problem.ts'
import { asJson, onFarm, type Must } from './cli-farm.ts'
import { deliveriesText, ratesText, traceText } from './export/spring-text.ts'

export interface SpringOptions {
  today?: string | undefined
  lot?: string | undefined
  field?: string | undefined
  json: boolean
  csv: boolean
  /** Write what looks like a slip of typing too. */
  confirm: boolean
  delivery: () => Result<unknown>
}

/** What is printed, or what is wrong. */
export async function springCommand(verb: SpringVerb, path: string, options: SpringOptions): Promise<Result<string>> {
  // The one edge where a command meets the present, as the window's clock is the window's.
  const today = options.today ?? new Date().toLocaleDateString('sv-SE')
  if (!v.is(isoDate, today)) {
    return fail({
      code: 'bad-value',
      what: `--today must be a date such as 2027-04-20, not "${today}".`,
      remedy: 'Correct the option.',
    })
  }
  return onFarm(path, (must) => run(verb, must, today, options))
}

async function run(verb: SpringVerb, must: Must, today: string, options: SpringOptions): Promise<string> {
  if (verb === 'rates') {
    if (options.csv) {
      const { base64 } = await must('rates.file', { as: 'csv', today })
      return Buffer.from(base64, 'base64').toString('utf8')
    }
    const rates = await must('rates.list', { today })
    return options.json ? asJson(rates) : ratesText(rates)
  }
  if (verb === 'trace') {
    const trace = await must('trace.list', {})
    const lots = trace.lots.filter(({ lotNumber }) => options.lot === undefined || lotNumber === options.lot)
    const fields = trace.fields.filter(({ name }) => options.field === undefined || name === options.field)
    if (options.lot !== undefined && lots.length === 0) throw new ProblemError([unknown('lot', options.lot)])
    if (options.field !== undefined && fields.length === 0) throw new ProblemError([unknown('field', options.field)])
    const shown = {
      ...trace,
      lots: options.field === undefined ? lots : [],
      fields: options.lot === undefined ? fields : [],
    }
    return options.json ? asJson(shown) : traceText(shown)
  }
  const parsed = v.safeParse(deliveryFileSchema, valueOf(options.delivery()))
  if (!parsed.success) throw new ProblemError(parsed.issues.slice(0, 20).map(wrongFile))
  await receive(must, parsed.output, today, options.confirm)
  const now = await must('delivery.list', {})
  return options.json ? asJson(now) : deliveriesText(now)
}

/** Looks everything up before anything is written; what is refused half-way is taken back, so that all of it is in or none. */
async function receive(must: Must, file: DeliveryFile, today: string, isConfirmed: boolean): Promise<void> {
  const now = await must('delivery.list', {})
  const dealer = now.allDealers.find(({ name }) => name === file.dealer)
  if (dealer === undefined) throw new ProblemError([unknown('dealer', file.dealer)])
  const { dealer: _, lots, ...plain } = file
  const ready = lots.map(({ variety, quote, isSecondPart, tag, ...lot }) => {
    const varietyId = now.varieties.find(({ name }) => name === variety)?.id
    if (varietyId === undefined) throw new ProblemError([unknown('variety', variety)])
    const orderLineId = lineOf(now, dealer.id, variety, quote)
    return { lot: { ...lot, varietyId, orderLineId, carriedSeedId: null }, isSecondPart, tag }
  })
  let steps = 0
  try {
    const deliveryId = await must('delivery.save', {
      delivery: { ...plain, dealerId: dealer.id },
      today,
      isConfirmed,
    })
    steps += 1
    for (const { lot, isSecondPart, tag } of ready) {
      const lotId = await must('lot.save', { lot: { ...lot, deliveryId }, isSecondPart, isConfirmed })
      steps += 1
      if (tag === undefined) continue
      await must('tag.save', { lotId, tag, today })
      steps += 1
    }
  } catch (error) {
    for (; steps > 0; steps -= 1) await must('undo.back', {})
    throw error
  }
}

function lineOf(now: DeliveriesNow, dealerId: number, variety: string, quote: string | undefined): number | null {
  const lines = now.dealers.find((dealer) => dealer.dealerId === dealerId)?.lines ?? []
  if (quote !== undefined) {
    const line = lines.find((each) => each.quote === quote)
    if (line === undefined) throw new ProblemError([unknown('order line', quote)])
    return line.lineId
  }
  const own = lines.filter((line) => line.variety === variety)
  const open = own.filter((line) => receiptWords(line) !== 'all here')
  const candidates = own.length === 1 ? own : open
  if (candidates.length > 1) {
    throw new ProblemError([
      {
        code: 'bad-value',
        what: `${variety} stands on several lines of the order.`,
        where: { name: variety },
        remedy: `Give the lot its quote: ${candidates.map((line) => line.quote).join('; ')}.`,
      },
    ])
  }
  return candidates[0]?.lineId ?? null
}

function unknown(kind: string, name: string): Problem {
  return {
    code: 'unknown-name',
    what: `The farm has no ${kind} ${name}.`,
    where: { name },
    remedy: 'Correct the name; capitals count.',
  }
}

function wrongFile(issue: v.BaseIssue<unknown>): Problem {
  const path = v.getDotPath(issue)
  return {
    code: 'bad-value',
    what: `${path ?? 'The file'}: ${issue.message}.`,
    ...(path === null ? {} : { where: { path } }),
    remedy: 'Correct it in the file; standwell schema delivery says what it may hold.',
  }
}
