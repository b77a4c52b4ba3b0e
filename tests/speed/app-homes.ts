/** Homes that the app is measured in, made before it is started: the demo farm, and a large farm in its tenth season. */
import { mkdirSync } from 'node:fs'
import { join } from 'node:path'
import { createEngine } from '../../src-main/engine/engine.ts'
import { createFarm } from '../../src-main/engine/farm-file.ts'
import { letGo } from '../../src-main/engine/keeper/closing.ts'
import { openDemoFarm } from '../../src-main/engine/open-close.ts'
import { rememberFarm } from '../../src-main/engine/recent.ts'
import { rollNow } from '../../src-main/engine/rolling.ts'
import { randomRecord } from '../support/review-input.ts'
import { fill } from './review-farm.ts'

const [folder] = process.argv.slice(2)
if (folder === undefined) throw new Error('A folder for the homes is needed.')

function engineIn(name: string) {
  const home = join(folder ?? '', name)
  mkdirSync(home, { recursive: true })
  return createEngine({
    home,
    say: () => undefined,
    noteBug: (_call, error) => {
      throw error
    },
  })
}

const demo = engineIn('demo')
openDemoFarm(demo, '2027-01-15')
letGo(demo)

const large = engineIn('large')
const record = randomRecord(5, { fields: 300, lots: 40, loads: 3000 })
const made = createFarm(join(large.home, 'Large.farm'), record.season)
if (!made.ok) throw new Error(JSON.stringify(made.problems))
await fill(made.value, record)
large.farm = made.value
for (let season = 2; season <= 10; season += 1) await rollNow(large, [])
rememberFarm(large.home, made.value.path)
letGo(large)
