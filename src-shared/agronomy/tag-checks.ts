/**
 * A lot's tag and tests, item by item: what is there, what is missing, what is beyond a limit, and where each limit is
 * from. Federal limits are tables of the regulations; what states set differently are rows of the house book. Pure.
 */
import type { Book } from '../assumption.ts'
import type { GerminationTest } from '../germination-test.ts'
import { showDay, showPercent, showWhole } from '../show.ts'
import type { Tag } from '../tag.ts'
import { germinationMark } from './germination.ts'
import { lastShipDay } from './test-age.ts'
import { noxiousMost, replicateRange, retestAgainst } from './tolerance.ts'

export type TagItem = keyof Tag | 'retest' | 'replicates' | 'sum'

export interface TagCheck {
  item: TagItem
  /** fits: within its limit · heed: look at it · fails: beyond its limit · missing: the law asks for it. */
  verdict: 'fits' | 'heed' | 'fails' | 'missing'
  says: string
  /** Where the limit is from. */
  source: string
}

export interface TagFacts {
  tag: Tag
  /** What the lot was entered as. */
  lot: { variety: string; lotNumber: string }
  /** What the order, else the variety, promised. */
  promised: { germination: number; seedsPerPound: number; isTreated: boolean }
  /** The day the lot came; null for seed that was here already. */
  arrivedOn: string | null
  tests: readonly GerminationTest[]
}

const law = '7 USC 1571(a)'
const labelSource = 'the order'

/** Every check that can be made of what is known, in the order of a tag. */
export function tagChecks(book: Book, facts: TagFacts): TagCheck[] {
  const { tag } = facts
  return [
    ...named(facts),
    ...shares(book, tag),
    ...noxious(tag),
    ...germination(book, facts),
    ...age(book, facts),
    ...treatment(facts),
    ...(tag.shipper === null ? [missing('shipper', 'Name and address of the shipper', law)] : []),
    ...count(book, facts),
    ...facts.tests.flatMap((test) => testChecks(book, tag, test)),
  ]
}

function missing(item: TagItem, what: string, source: string): TagCheck {
  return { item, verdict: 'missing', says: `${what} must be on the tag.`, source }
}

function named({ tag, lot }: TagFacts): TagCheck[] {
  const checks: TagCheck[] = []
  const same = (a: string, b: string) => a.trim().toLowerCase() === b.trim().toLowerCase()
  if (tag.variety === null) checks.push(missing('variety', 'The variety', law))
  else if (!same(tag.variety, lot.variety)) {
    const says = `The tag names ${tag.variety}, the lot was entered as ${lot.variety}.`
    checks.push({ item: 'variety', verdict: 'fails', says, source: labelSource })
  }
  if (tag.lotNumber === null) checks.push(missing('lotNumber', 'The lot number', law))
  else if (tag.lotNumber.trim() !== lot.lotNumber.trim()) {
    const says = `The tag has lot ${tag.lotNumber}, this lot was entered as ${lot.lotNumber}.`
    checks.push({ item: 'lotNumber', verdict: 'fails', says, source: law })
  }
  if (tag.origin === null) {
    const says = 'No origin is given; it must be on the tag where the rules for the kind ask for it.'
    checks.push({ item: 'origin', verdict: 'heed', says, source: law })
  }
  return checks
}

/** Hundredths of a per cent are as fine as purity is reported: 7 CFR 201.47. */
const fine = (share: number) => showPercent(share, 2)

function shares(book: Book, tag: Tag): TagCheck[] {
  const checks: TagCheck[] = []
  const items = [
    ['pureSeed', 'Pure seed', 'tag/least pure seed', 'least'],
    ['otherCrop', 'Other crop seed', 'tag/most other crop', 'most'],
    ['inert', 'Inert matter', 'tag/most inert', 'most'],
    ['weedSeed', 'Weed seed', 'tag/most weed seed', 'most'],
  ] as const
  for (const [item, name, key, side] of items) {
    const value = tag[item]
    if (value === null) {
      checks.push(missing(item, name, law))
      continue
    }
    const limit = book.number(key)
    const isIn = side === 'least' ? value >= limit - 1e-9 : value <= limit + 1e-9
    const says = `${fine(value)}; certified seed: at ${side} ${fine(limit)}.`
    checks.push({ item, verdict: isIn ? 'fits' : 'heed', says, source: sourceOf(book, key) })
  }
  const { pureSeed, otherCrop, inert, weedSeed } = tag
  if (pureSeed !== null && otherCrop !== null && inert !== null && weedSeed !== null) {
    const sum = pureSeed + otherCrop + inert + weedSeed
    if (Math.abs(sum - 1) > 0.00055) {
      const says = `Pure seed, other crop, inert matter and weed seed add up to ${fine(sum)}, not 100 %.`
      checks.push({ item: 'sum', verdict: 'fails', says, source: 'arithmetic; read the tag again' })
    }
  }
  return checks
}

function sourceOf(book: Book, key: string): string {
  return book.row(key).source
}

function noxious(tag: Tag): TagCheck[] {
  const { noxiousPerPound, noxiousFound, noxiousSamplePounds } = tag
  if (noxiousPerPound === null) {
    const says = 'No rate of noxious weed seeds is given; it must be on the tag where there are any.'
    return [{ item: 'noxiousPerPound', verdict: 'heed', says, source: law }]
  }
  if (noxiousFound === null || noxiousSamplePounds === null) return []
  const source = '7 CFR 201.65'
  const labelled = Math.round(noxiousPerPound * noxiousSamplePounds)
  const most = noxiousMost(labelled)
  if (most === null) {
    const says = `${showWhole(labelled)} labelled in the sample; the table as it was read ends at 30. Ask a seed laboratory.`
    return [{ item: 'noxiousFound', verdict: 'heed', says, source }]
  }
  const isIn = noxiousFound <= most
  const says = `${showWhole(noxiousFound)} found where ${showWhole(labelled)} are labelled; up to ${most} are within tolerance.`
  return [{ item: 'noxiousFound', verdict: isIn ? 'fits' : 'fails', says, source }]
}

function germination(book: Book, { tag, promised }: TagFacts): TagCheck[] {
  const checks: TagCheck[] = []
  const item = 'germination'
  if (tag.germination === null) checks.push(missing(item, 'Germination', law))
  else {
    checks.push(...against(book, item, tag.germination))
    const isKept = tag.germination >= promised.germination - 1e-9
    const says = `${showPercent(tag.germination)} on the tag, ${showPercent(promised.germination)} promised.`
    checks.push({ item, verdict: isKept ? 'fits' : 'heed', says, source: labelSource })
  }
  if (tag.hardSeed === null) {
    const says = 'No share of hard seed is given; it must be on the tag where there is any.'
    checks.push({ item: 'hardSeed', verdict: 'heed', says, source: law })
  }
  return checks
}

function against(book: Book, item: TagItem, value: number): TagCheck[] {
  const key = 'tag/least germination'
  const least = book.number(key)
  const source = sourceOf(book, key)
  if (value < least - 1e-9) {
    const says = `${showPercent(value)} is below the least for certified seed, ${showPercent(least)}.`
    return [{ item, verdict: 'fails', says, source }]
  }
  if (germinationMark(book, value) === 'good') {
    return [
      { item, verdict: 'fits', says: `${showPercent(value)}; certified: at least ${showPercent(least)}.`, source },
    ]
  }
  const says = `${showPercent(value)} is weak: more seeds a foot are needed.`
  return [{ item, verdict: 'heed', says, source: sourceOf(book, 'germination/warn below') }]
}

function age(book: Book, { tag, arrivedOn }: TagFacts): TagCheck[] {
  const item = 'testedIn'
  if (tag.testedIn === null) return [missing(item, 'Month and year of the germination test', '7 CFR 201.22')]
  if (arrivedOn === null) return []
  const checks: TagCheck[] = []
  const months = tag.isHermetic ? book.number('tag/months to shipment/sealed') : book.number('tag/months to shipment')
  const last = lastShipDay(tag.testedIn, months)
  const between = `${months} calendar months${tag.isHermetic ? ' for sealed seed' : ''}`
  const isIn = arrivedOn <= last
  const says = isIn
    ? `Could be shipped to another state until ${showDay(last)} (${between}); it came ${showDay(arrivedOn)}.`
    : `Came ${showDay(arrivedOn)}; across a state line it had to be shipped by ${showDay(last)} (${between}).`
  checks.push({
    item,
    verdict: isIn ? 'fits' : 'fails',
    says,
    source: '7 CFR 201.22; within a state its own limit holds',
  })
  const own = book.number('tag/months to sale in the state')
  if (own > 0) {
    const end = lastShipDay(tag.testedIn, own)
    const isSold = arrivedOn <= end
    const limit = `Your state’s limit, ${own} months, ends ${showDay(end)}.`
    checks.push({
      item,
      verdict: isSold ? 'fits' : 'fails',
      says: limit,
      source: 'the limit you set in the house book',
    })
  }
  return checks
}

function treatment({ tag, promised }: TagFacts): TagCheck[] {
  const checks: TagCheck[] = []
  if (tag.isTreated !== promised.isTreated) {
    const says = `The tag says ${tag.isTreated ? 'treated' : 'not treated'}, the order ${promised.isTreated ? 'treated' : 'not treated'}.`
    checks.push({ item: 'isTreated', verdict: 'heed', says, source: labelSource })
  }
  if (!tag.isTreated) return checks
  if (tag.treatment === null) {
    checks.push(missing('treatment', 'What it is treated with', '7 USC 1571(i); 7 CFR 201.31a'))
  }
  if (tag.caution === null) {
    checks.push(missing('caution', 'A caution, as not for food, feed or oil,', '7 USC 1571(i); 7 CFR 201.31a'))
  }
  return checks
}

function count(book: Book, { tag, promised }: TagFacts): TagCheck[] {
  if (tag.seedsPerPound === null) {
    const says = `No seed count on the tag: ${showWhole(promised.seedsPerPound)} a pound is counted with. Weigh 100 seeds, or ask.`
    return [{ item: 'seedsPerPound', verdict: 'heed', says, source: 'not asked by law' }]
  }
  const off = tag.seedsPerPound / promised.seedsPerPound - 1
  // Within one deviation of lots from their variety: nothing to look at.
  const isUsual = Math.abs(off) <= book.number('reserve/variation/seed count')
  const says = `${showWhole(tag.seedsPerPound)} a pound, planned on ${showWhole(promised.seedsPerPound)}.`
  return [{ item: 'seedsPerPound', verdict: isUsual ? 'fits' : 'heed', says, source: labelSource }]
}

/** A test against the tag, and its replicates against each other. */
function testChecks(book: Book, tag: Tag, test: GerminationTest): TagCheck[] {
  const who = `${test.laboratory ?? 'At home'}, ${showDay(test.testedOn)}`
  const seeds = test.replicates.reduce((sum, each) => sum + each.seeds, 0)
  const checks: TagCheck[] = against(book, 'retest', test.germination).map((check) => ({
    ...check,
    says: `${who}: ${check.says}`,
  }))
  if (tag.germination !== null) {
    const { mean, tolerance, below, isWithin } = retestAgainst(tag.germination, test.germination)
    const round = (value: number) => Number(value.toFixed(2))
    const base = `${who}: ${showPercent(test.germination)} against ${showPercent(tag.germination)} on the tag; at a mean of ${round(mean)} up to ${tolerance} points below are within tolerance, ${below < 0 ? `it is ${round(-below)} above` : `it is ${round(below)}`}.`
    const few = seeds > 0 && seeds < 400
    const verdict = isWithin ? 'fits' : few ? 'heed' : 'fails'
    const says = few ? `${base} The table holds for 400 seeds; this test had ${showWhole(seeds)}.` : base
    checks.push({ item: 'retest', verdict, says, source: '7 CFR 201.63' })
  }
  return [...checks, ...replicateCheck(test, who)]
}

function replicateCheck({ replicates }: GerminationTest, who: string): TagCheck[] {
  const source = '7 CFR 201.55'
  const { length } = replicates
  if (length < 2) return []
  if ((length !== 4 && length !== 2) || replicates.some(({ seeds }) => seeds !== 100)) {
    const says = `${who}: the table is for two or four replicates of 100 seeds; these are ${length} of other sizes.`
    return [{ item: 'replicates', verdict: 'heed', says, source }]
  }
  const sprouted = replicates.map((each) => each.sprouted)
  const range = Math.max(...sprouted) - Math.min(...sprouted)
  const average = sprouted.reduce((sum, each) => sum + each, 0) / length
  const most = replicateRange(average, length)
  if (most === null) {
    const says = `${who}: the replicates range over ${range}; the table as it was read has no row for an average of ${Math.round(average)}.`
    return [{ item: 'replicates', verdict: 'heed', says, source }]
  }
  const isIn = range <= most
  const says = `${who}: the replicates range over ${range} of ${most} at most${isIn ? '.' : '; test again.'}`
  return [{ item: 'replicates', verdict: isIn ? 'fits' : 'fails', says, source }]
}
