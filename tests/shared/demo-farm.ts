/** The demo farm's season, read as anyone's season file is, with changes where a test wants them. */
import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { readSeason, type Season } from '../../src-shared/season.ts'

const text = readFileSync(join(import.meta.dirname, '../../src-main/demo/demo.season.json'), 'utf8')

export function demoFarm(changes: Partial<Season> = {}): Season {
  const season = readSeason(JSON.parse(text), 'demo.season.json')
  if (!season.ok) throw new Error(JSON.stringify(season.problems))
  return { ...season.value, ...changes }
}

/** The first of a list that fits; a test that finds none is wrong. */
export function pick<Item>(list: readonly Item[], fits: (item: Item) => boolean = () => true): Item {
  const found = list.find(fits)
  if (found === undefined) throw new Error('Nothing in the list fits.')
  return found
}
