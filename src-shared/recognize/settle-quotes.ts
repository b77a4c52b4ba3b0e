/** What a price list settles as a whole: what its prices are for, what its packs hold, whose it is. Pure. */
import type { Context } from './context.ts'
import { readDayText } from './days.ts'
import { isBlank, textOf } from './grid.ts'
import { dealerHeading, isBusiness, packIn, perOfHeading, readPack, readTiers } from './price-text.ts'
import { isImpossible, perBySize, poundsOf, usualPounds, type PriceSense } from './quote-rows.ts'
import { yesOrNo } from './read-word.ts'
import { plainName } from './tokens.ts'

export function settlePrices(context: Context): PriceSense {
  const { columns, found, given, own, decimals, ask } = context
  const { answers } = given
  const packColumn = columns.find(({ column }) => column.id === 'pack')
  const itemColumn = columns.find(({ column }) => column.id === 'variety')
  const answer = answers['pack pounds']
  const inWords = /(\d[\d,]*)\s*(?:-\s*)?(?:lbs?\.?|#|pounds?)[\s-]*(?:bags?|totes?|units?|paper|poly)/i.exec(
    `${found.headings.join(' ')} ${found.words.join(' ')} ${given.named}`,
  )
  const headedPounds =
    columns.map(({ heading }) => perOfHeading(heading)?.packPounds ?? null).find((pounds) => pounds !== null) ?? null
  const isBags = columns.some(({ heading }) => /\bbags?\b/i.test(heading)) ? usualPounds.bag : null
  let packPounds =
    answer === undefined
      ? (headedPounds ?? (inWords ? Number((inWords[1] as string).replaceAll(',', '')) : isBags))
      : Number(answer) || null
  const priced = columns.filter(({ column }) => column.reads === 'price')
  const isSaid = priced.some(
    ({ at }) =>
      own(at).length > 0 &&
      own(at).every((cell) =>
        readTiers(textOf(cell), decimals)?.every((tier) => tier.packPounds !== null || tier.kind !== undefined),
      ),
  )
  const isInItem = itemColumn !== undefined && own(itemColumn.at).every((cell) => packIn(textOf(cell)) !== null)
  const isHeaded = priced.every(
    ({ column, heading }) =>
      (column.id === 'dealerPrice' || column.id === 'packPrice') && dealerHeading(heading).pack !== null,
  )
  if (packPounds === null && packColumn === undefined && !isSaid && !isInItem && !isHeaded && priced.length > 0) {
    ask(
      {
        key: 'pack pounds',
        scope: 'table',
        header: '',
        says: 'No column says how many pounds a pack holds. What are these prices for?',
        answers: [
          { value: '50', says: 'bags of 50 lb' },
          { value: '2000', says: 'totes of 2,000 lb' },
        ],
        suggestion: '50',
      },
      found.rows.length,
    )
    packPounds = null
  }
  const bare: { amount: number; packPounds: number }[] = []
  const distrusted = distrust()
  for (const { cells } of found.rows) {
    const own = packColumn ? readPack(textOf(cells[packColumn.at])) : undefined
    const item = itemColumn ? packIn(textOf(cells[itemColumn.at])) : undefined
    for (const { at, heading, column } of columns) {
      if (column.reads !== 'price' || isBlank(cells[at])) continue
      if (perOfHeading(heading) !== null && !distrusted.has(heading)) continue
      const headed = column.id === 'dealerPrice' || column.id === 'packPrice' ? dealerHeading(heading).pack : null
      const pack = headed ?? (own?.pounds || (own?.kind && !item?.pounds) ? own : (item ?? own))
      for (const tier of readTiers(textOf(cells[at]), decimals) ?? []) {
        const pounds = poundsOf(pack ?? undefined, { packPounds: packPounds ?? 50 }, [])
        if (tier.per === null && tier.amount > 0 && pounds !== null)
          bare.push({ amount: tier.amount, packPounds: pounds })
      }
    }
  }
  if (bare.length === 0) return { per: 'pack', packPounds, distrusted }
  const answered = answers['price per']
  if (answered === 'pack' || answered === 'lb' || answered === 'cwt' || answered === 'ton')
    return tellPer(context, { per: answered, packPounds, distrusted })
  const sense = perBySize(bare)
  if (sense === null || !sense.isSure) {
    ask(
      {
        key: 'price per',
        scope: 'table',
        header: '',
        says: 'What are the prices for?',
        answers: [
          { value: 'pack', says: 'a bag or tote' },
          { value: 'lb', says: 'a pound' },
          { value: 'cwt', says: 'a hundredweight' },
          { value: 'ton', says: 'a ton' },
        ],
        suggestion: sense?.per ?? 'pack',
      },
      bare.length,
    )
  }
  const isOpen = sense === null || !sense.isSure
  return tellPer(context, { per: sense?.per ?? 'pack', packPounds, distrusted, isOpen })

  /** “$/lb” above prices of bags: what its own unit makes of them costs more than any seed. */
  function distrust(): Set<string> {
    const out = new Set<string>()
    for (const { at, heading } of priced) {
      const headed = perOfHeading(heading)
      if (headed === null) continue
      const prices = found.rows.flatMap(({ cells }) => {
        const pack = packColumn ? readPack(textOf(cells[packColumn.at])) : null
        const pounds = poundsOf(pack ?? undefined, { packPounds: headed.packPounds ?? packPounds ?? 50 }, [])
        return (readTiers(textOf(cells[at]), decimals) ?? []).flatMap(({ amount, per }) =>
          per !== null || pounds === null
            ? []
            : [headed.per === 'lb' ? amount * headed.factor : (amount * headed.factor) / pounds],
        )
      })
      if (prices.length > 0 && prices.every(isImpossible)) out.add(heading)
    }
    return out
  }
}

function tellPer({ columns, columnSays }: Context, sense: PriceSense): PriceSense {
  const says = { pack: 'a pack', lb: 'a pound', cwt: 'a hundredweight', ton: 'a ton' }[sense.per]
  for (const { at, column, heading } of columns)
    if (column.reads === 'price' && (perOfHeading(heading) === null || sense.distrusted?.has(heading) === true))
      columnSays[at] = `by their size for ${says}`
  return sense
}

export interface ReturnTerms {
  orderBy?: string
  returnBy?: string
  returnCredit?: number
}

const dayAfter =
  /(?:until|by|thru|through|before|till?)\s+((?:[a-z]{3,9}\.? \d{1,2}(?:,? \d{4})?)|\d{1,2}[/-]\d{1,2}(?:[/-]\d{2,4})?)/i

/** “Unopened bags returnable until June 20 for 80 % credit”, above or below a list. */
export function returnTerms({ found, given }: Context): ReturnTerms {
  const said =
    found.aside.find(({ why, text }) => (why === 'note' || why === 'title') && /\breturn/i.test(text))?.text ?? ''
  const until = dayAfter.exec(said)?.[1]
  const firm =
    found.aside.find(
      ({ why, text }) =>
        (why === 'note' || why === 'title') &&
        /\b(?:good|firm|valid|guaranteed)\s+(?:through|thru|until|till?|to)\b|\border by\b/i.test(text),
    )?.text ?? ''
  const firmDay = dayAfter.exec(firm.replace(/^.*?(?=\b(?:good|firm|valid|guaranteed|order by)\b)/i, ''))?.[1]
  const last =
    firmDay === undefined ? null : readDayText(firmDay, { order: 'mdy', season: given.season, isFall: false })
  const share = /(\d{1,3})\s*%/.exec(said)?.[1]
  const day = until === undefined ? null : readDayText(until, { order: 'mdy', season: given.season, isFall: false })
  return {
    ...(day?.ok ? { returnBy: day.value } : {}),
    ...(last?.ok ? { orderBy: last.value } : {}),
    ...(share === undefined || Number(share) > 100 ? {} : { returnCredit: Number(share) / 100 }),
  }
}

/** The dealer of a list that has none in its rows: named in its title, its sheet or its file, or asked for. */
export function settleDealer({ columns, found, given, ask }: Context): string | undefined {
  const { answers } = given
  if (columns.some(({ column }) => column.id === 'dealer' || column.id === 'dealerPrice')) return undefined
  if (found.aside.some(({ why }) => why === 'section') && found.rows.length > 0) return undefined
  const answer = answers['dealer']
  if (answer !== undefined) return answer === '' ? undefined : answer
  // A letter says who it is from.
  const from = found.aside
    .filter(({ why }) => why === 'title')
    .map(
      ({ text }) =>
        /^(?:from|dealer|supplier|seller|company|quoted? (?:by|from))\s*[:–-]\s*(.{2,60})$/i.exec(text)?.[1],
    )
    .find((name) => name !== undefined)
  if (from !== undefined) return from.trim()
  const text = plainName([given.page ?? '', given.named, ...found.words].join(' '))
  const known = given.names.dealers.find((name) => text.includes(plainName(name)))
  if (known !== undefined) return known
  const [first] = found.aside.filter(
    ({ why, text }) => why === 'title' && !/^(?:to|date|re|attn|subject)\b\s*:/i.test(text),
  )
  // A file's own name seldom is the dealer's.
  const title = (
    (
      first?.text ??
      [given.page ?? '', given.named].find(
        (name) =>
          /^[A-Z][A-Za-z&' .]{2,40}$/.test(name.trim()) && !/^(sheet|table|prices?|quotes?|seed)$/i.test(name.trim()),
      ) ??
      ''
    ).split(/\s+[-–—|:]\s+|[:|]/)[0] ?? ''
  )
    .replace(
      /\b(?:19|20)\d{2}\b|\b(?:peanut|seed|price|list|quote|quotation|pricing|prices|sheet|csv|xlsx|from)s?\b/gi,
      (word) => (/^seeds?$/i.test(word) ? word : ' '),
    )
    .replace(/\s*[-–—:,|]+\s*$/g, '')
    .replace(/\s+/g, ' ')
    .replace(/^[\s–—:,|-]+|[\s–—:,|-]+$/g, '')
    .slice(0, 60)
  // A title with a business in it is whose list it is.
  if (
    first !== undefined &&
    !/\b(?:quotes?|prices?|pricing|list|as of|sheets?|bids?|offers?)\b/i.test(
      first.text.split(/\s+[-–—|:]\s+/)[0] ?? '',
    ) &&
    isBusiness(title) &&
    title.split(' ').length <= 6
  )
    return title
  ask(
    {
      key: 'dealer',
      scope: 'table',
      header: '',
      says: 'Whose prices are these? No column names the dealer.',
      answers: given.names.dealers.map((name) => ({ value: name, says: name })),
      suggestion: title === '' ? null : title,
    },
    found.rows.length,
  )
  return undefined
}

/** How treated seed and other are told apart in the list: of one kind alone nothing need be. */
export function treatmentsOf({ columns, own }: Context): Set<string> {
  const at = columns.find(({ column }) => column.id === 'treatment')?.at
  const variety = columns.find(({ column }) => column.id === 'variety')?.at
  if (at === undefined)
    return new Set(variety === undefined ? [] : own(variety).flatMap((cell) => seedOf(textOf(cell)).treatment ?? []))
  return new Set(own(at).map((cell) => treatmentText(textOf(cell))))
}

export function treatmentText(text: string): string {
  const is = yesOrNo(text)
  return is === null ? text : is ? 'treated' : 'untreated'
}

const treatedWords = /\b(?:(un|non)[- ]?)?(?:treated|trt|trtd)\b|\braw\b/i
const seedWords =
  /\b(?:peanuts?|seeds?|certified|registered|foundation|cert|reg|runner type|\d+\s*(?:lbs?|#)\s*(?:bags?|totes?)?|in bags?|bags?|totes?)\b\.?/gi

/** A dealer's item → the variety in it, and whether it is treated: “Brindle peanut seed treated”. */
export function seedOf(text: string): { name: string; treatment?: string } {
  const treated = treatedWords.exec(text)
  const bare = text
    .replace(treatedWords, ' ')
    .replace(seedWords, ' ')
    .replace(/[([]\s*[)\]]/g, ' ')
    .replace(/\s+/g, ' ')
    .replace(/^[\s,;:/-]+|[\s,;:/-]+$/g, '')
  return {
    name: bare === '' ? text : bare,
    ...(treated ? { treatment: treated[1] || /raw/i.test(treated[0]) ? 'untreated' : 'treated' } : {}),
  }
}
