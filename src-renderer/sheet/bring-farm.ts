/** A farm's file that came into the window, by choice or by drop: read and brought in, where it is of a size that can be. */
import type { Reply } from '../../src-shared/api.ts'
import { fail } from '../../src-shared/problem.ts'
import { call } from '../engine/call.ts'
import { readFile } from './file-bytes.ts'

/** [byte] what one call carries. */
const most = 45 * 1024 * 1024

export async function bringFarm(file: File): Promise<Reply<'farm.bringIn'>> {
  if (file.size > most) {
    const remedy = 'Put it into the folder of the farms with the system’s own file window, and look here again.'
    return fail({ code: 'bad-file', what: `“${file.name}” is larger than 45 MB.`, remedy })
  }
  return call('farm.bringIn', { file: await readFile(file) })
}
