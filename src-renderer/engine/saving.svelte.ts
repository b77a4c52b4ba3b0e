/** Changes on their way to the farm's file. Nothing is called saved before the engine has said that it is on disk. */
import type { CallName, GivenInput, Reply } from '../../src-shared/api.ts'
import { call } from './call.ts'

class Saving {
  /** Changes not yet answered. */
  underway = $state(0)
  /** When the last change reached the disk, or null. */
  savedAt = $state.raw<Date | null>(null)
  /** The last change had no answer: nobody knows whether it is on the disk. */
  isCutOff = $state(false)

  async change<Name extends CallName>(name: Name, input: GivenInput<Name>): Promise<Reply<Name>> {
    this.underway += 1
    try {
      const reply = await call(name, input)
      if (reply.ok) this.savedAt = new Date()
      this.isCutOff = !reply.ok && reply.problems.some(({ code }) => code === 'engine-stopped')
      return reply
    } finally {
      this.underway -= 1
    }
  }
}

/** One for the window: there is one farm file. */
export const saving = new Saving()
