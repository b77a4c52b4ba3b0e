/** The calls about farms as files: kept, opened, brought in, copied out, renamed, backed up, gone back. No path crosses here. */
import * as v from 'valibot'
import { is, name, nothing, read, tableNames, task } from './api-call.ts'
import type { BackupRow, BackupsNow } from './backup.ts'
import type { FarmFile, FarmSummary, TakenFarm } from './farm.ts'
import { isoDate, words } from './primitive.ts'
import type { WrittenFile } from './sheet/bring-in.ts'
import { filePlace, pieceText, type FilePlace } from './sheet/file-piece.ts'

const fileName = words(255)

export const fileCalls = {
  /** The open farm, or null. */
  'farm.current': read({ input: nothing, output: is<FarmSummary | null>(), tables: ['farm', 'season'] }),
  /**
   * A fresh copy of the demo farm, opened: of the season that is planned on this day, or as it is written; or `harvested`,
   * with its last year written down to the last load and the next season begun from it.
   */
  'farm.openDemo': task({
    inAnySeason: true,
    input: v.variant('harvested', [
      v.strictObject({ today: v.optional(isoDate), harvested: v.optional(v.literal(false)) }),
      v.strictObject({ today: isoDate, harvested: v.literal(true) }),
    ]),
    output: is<FarmSummary>(),
    tables: tableNames,
  }),
  /** A new farm file with the regional starting assumptions and no fields. */
  'farm.start': task({
    inAnySeason: true,
    input: v.strictObject({ name, season: v.pipe(v.number(), v.integer(), v.minValue(2000), v.maxValue(2200)) }),
    output: is<FarmSummary>(),
    tables: tableNames,
  }),
  /** Farms kept on this machine, the one that was changed last first. */
  'farm.list': read({ input: nothing, output: is<FarmFile[]>(), tables: ['farm'] }),
  /** Opens one of them in place of the open one; `asItIs`: although something else has changed it since it was closed. */
  'farm.open': task({
    inAnySeason: true,
    input: v.strictObject({ fileName, asItIs: v.optional(v.boolean(), false) }),
    output: is<FarmSummary>(),
    tables: tableNames,
  }),
  /** A farm that is open in another Standwell: a copy of its newest backup, to look at and not to change. */
  'farm.openToRead': task({
    inAnySeason: true,
    input: v.strictObject({ fileName }),
    output: is<FarmSummary>(),
    tables: tableNames,
  }),
  /** Farms that another program took away since Standwell started, oldest first, until `farm.dismissTaken`. */
  'farm.taken': read({ input: nothing, output: is<readonly TakenFarm[]>(), tables: ['farm'] }),
  /** They were read: no window shows them any more. */
  'farm.dismissTaken': task({ inAnySeason: true, input: nothing, output: is<null>(), tables: ['farm'] }),
  'farm.close': task({ inAnySeason: true, input: nothing, output: is<null>(), tables: tableNames }),
  /** The open farm under another file name, with its backups. */
  'farm.rename': task({
    inAnySeason: true,
    notInCopy: true,
    input: v.strictObject({ name }),
    output: is<FarmSummary>(),
    tables: ['farm', 'backup'],
  }),
  /** A whole copy of the open farm, to be kept elsewhere: its first 8 MB, and where the rest begins; null: it is whole. */
  'farm.copyOut': read({ input: nothing, output: is<WrittenFile & { rest: FilePlace | null }>(), tables: [] }),
  /** The next 8 MB of that copy. */
  'farm.copyRest': read({
    input: v.strictObject({ from: filePlace }),
    output: is<{ base64: string; rest: FilePlace | null }>(),
    tables: [],
  }),
  /** A piece of a farm's file that is larger than one call carries. The last piece comes with `farm.bringIn`. */
  'farm.bringPiece': task({
    inAnySeason: true,
    input: v.strictObject({ after: v.nullable(filePlace), base64: pieceText }),
    output: is<FilePlace>(),
    tables: [],
  }),
  /** A farm's file from elsewhere, kept under a name that is free, and opened. `after`: the pieces that came before. */
  'farm.bringIn': task({
    inAnySeason: true,
    input: v.strictObject({
      file: v.strictObject({ name: fileName, base64: pieceText, after: v.optional(v.nullable(filePlace), null) }),
    }),
    output: is<FarmSummary>(),
    tables: tableNames,
  }),

  /** What somebody who mends Standwell asks first; nothing of the farm is in it, and nothing is sent. */
  'report.read': read({ input: nothing, output: is<string>(), tables: [] }),

  /** Backups of the open farm, or of one that is kept; and whether the last that was due could be made. */
  'backup.list': read({
    input: v.strictObject({ fileName: v.optional(fileName) }),
    output: is<BackupsNow>(),
    tables: ['farm', 'backup'],
  }),
  'backup.make': task({
    inAnySeason: true,
    notInCopy: true,
    input: nothing,
    output: is<BackupRow>(),
    tables: ['backup'],
  }),
  /** Puts a backup in the place of a farm, which is kept among the backups first, and opens it. */
  'backup.restore': task({
    inAnySeason: true,
    input: v.strictObject({ fileName: v.optional(fileName), backup: fileName }),
    output: is<FarmSummary>(),
    tables: tableNames,
  }),
} as const
