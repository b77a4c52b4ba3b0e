/** A farm as somebody begins it, and fields put in one by one. */
import { onTestFinished } from 'vitest'
import { startTestEngine, type TestEngine } from './engine.ts'

/** A farm of one's own, new and open, with nothing in it. */
export async function ownFarm(): Promise<TestEngine> {
  const host = startTestEngine()
  onTestFinished(() => host.close())
  await host.must('farm.start', { name: 'Creek', season: 2027 })
  return host
}

export const addField = (host: TestEngine, name: string) =>
  host.must('sheet.change', {
    sheet: 'field',
    says: 'Add a field',
    added: [
      {
        key: 1,
        values: { name, acres: 40, water: 'dryland', yieldGoalLb: 4000, rowSpacingIn: 36, rowPattern: 'single' },
      },
    ],
  })

export const fieldsOf = async (host: TestEngine) => (await host.must('field.list', {})).map(({ name }) => name)
