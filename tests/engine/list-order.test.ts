/** Lists in the order in which people look for names; the solver’s season by code unit, as it always was. */
import { expect, test } from 'vitest'
import { gather } from '../../src-main/engine/plan/gather.ts'
import { farmOf, freeSeason } from '../support/order-farm.ts'

test('figures in names count as figures in every list, and the season is in the one order of its file', async () => {
  const typed = ['Home 10', 'home 2', 'Home 1']
  const { must, engine } = farmOf(
    freeSeason((own) => ({
      ...own,
      fields: typed.map((name) => ({ ...own.fields[0]!, name })),
      dealers: typed.map((name) => ({ ...own.dealers[0]!, name })),
      varieties: typed.map((name) => ({ ...own.varieties[0]!, name })),
      quotes: typed.map((name) => ({ ...own.quotes[0]!, name: undefined, dealer: name, variety: name })),
      carried: [],
    })),
  )
  const looked = ['Home 1', 'home 2', 'Home 10']
  expect((await must('field.list', {})).map(({ name }) => name)).toEqual(looked)
  expect((await must('variety.list', {})).map(({ name }) => name)).toEqual(looked)
  expect((await must('dealer.list', {})).map(({ name }) => name)).toEqual(looked)
  expect((await must('quote.list', {})).map(({ dealer }) => dealer)).toEqual(looked)
  const { db, seasonId } = engine.farm!
  const season = await gather(db, seasonId)
  for (const list of [season.fields, season.varieties, season.dealers]) {
    expect(list.map(({ name }) => name)).toEqual(['Home 1', 'Home 10', 'home 2'])
  }
  expect(season.quotes.map(({ dealer }) => dealer)).toEqual(['Home 1', 'Home 10', 'home 2'])
})
