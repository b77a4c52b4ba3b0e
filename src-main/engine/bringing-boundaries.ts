/** Boundaries brought into the open farm: looked at against the fields by name, taken as one change. */
import type { Input, Output } from '../../src-shared/api.ts'
import { fates, type Fate } from '../../src-shared/sheet/bring-in.ts'
import type { OpenFarm } from './farm-file.ts'
import { listFields } from './fields.ts'
import { boundaryAcres } from './import/boundary-area.ts'
import { picturePath } from './import/boundary-picture.ts'
import type { BoundaryFile } from './import/read-boundary-file.ts'
import { newRow } from './sheets/new-row.ts'
import type { Noun } from './sheets/store.ts'
import { stores } from './sheets/stores.ts'
import { Writer } from './sheets/writer.ts'

function none(): Record<Fate, number> {
  return Object.fromEntries(fates.map((fate) => [fate, 0])) as Record<Fate, number>
}

/** [acre] To a tenth: what a planter monitor shows. */
function plantedAcres(inside: number | null): number | null {
  return inside === null ? null : Math.round(inside * 10) / 10
}

/** Every boundary of a file against the fields by name. */
async function judgeBoundaries(farm: OpenFarm, { property, newFields }: Input<'boundary.look'>, read: BoundaryFile) {
  const writer = new Writer(farm.connection, farm.seasonId)
  const chosen = property ?? read.properties[0] ?? null
  const fields = new Map((await listFields(farm.db, farm.seasonId)).map((field) => [field.name.toLowerCase(), field]))
  const seen = new Set<string>()
  const rows = read.features.map(({ properties, ...judgement }, index) => {
    const { boundary, picture, isPoint } = judgement
    const name = (chosen === null ? undefined : properties[chosen]) ?? ''
    const field = fields.get(name.toLowerCase())
    const acres = boundary ? boundaryAcres(boundary) : null
    let made: Noun | null = null
    const judged = (fate: Fate, what = judgement.what, remedy = judgement.remedy) => ({
      row: index + 1,
      name,
      acres,
      plantedAcres: field?.acres ?? null,
      fate,
      what,
      remedy,
      picture: picture ?? (boundary ? picturePath(boundary) : null),
      isNew: name !== '' && boundary !== null && !field,
      field,
      boundary,
      made,
    })
    // A pin on a shop or a well is no field's; one that is called as a field is, may be meant for it.
    if (isPoint && !field) return judged('blank')
    if (name === '' && !boundary && picture === null) return judged('blank', '', '')
    if (name === '') return judged('refused', 'It has no name.', 'Choose the property that holds the field’s name.')
    if (!boundary) return judged('refused')
    if (seen.has(name.toLowerCase()))
      return judged('refused', `${name} has a boundary above already.`, 'Join the two into one multi-polygon.')
    if (!field && !newFields)
      return judged('refused', `There is no field named “${name}”.`, 'Add the field first, or correct the name.')
    if (!field) {
      const row = newRow(writer, 'field', stores.field, { name, acres: plantedAcres(acres), ...newFields })
      const [problem] = row.problems
      if (!row.values || problem)
        return judged(
          'refused',
          problem?.problem.what ?? 'It makes no field.',
          problem?.problem.remedy ?? 'Add it by hand.',
        )
      made = row.values
    }
    seen.add(name.toLowerCase())
    if (!field?.boundary) return judged('added')
    return judged(JSON.stringify(field.boundary) === JSON.stringify(boundary) ? 'unchanged' : 'changed')
  })
  const counts = none()
  for (const { fate } of rows) counts[fate] += 1
  return { properties: read.properties, property: chosen, rows, counts }
}

/** What each outline of a file would do to which field. Nothing is written. */
export async function previewBoundaries(
  farm: OpenFarm,
  input: Input<'boundary.look'>,
  read: BoundaryFile,
): Promise<Output<'boundary.look'>> {
  const { rows, ...rest } = await judgeBoundaries(farm, input, read)
  return { ...rest, rows: rows.map(({ field: _field, boundary: _boundary, made: _made, ...row }) => row) }
}

/** All or nothing, unless only the good ones are asked for. In the caller's transaction. */
export async function takeBoundaries(
  farm: OpenFarm,
  { onlyGood, setAcres, ...input }: Input<'boundary.apply'>,
  read: BoundaryFile,
): Promise<Output<'boundary.apply'>> {
  const { rows, counts } = await judgeBoundaries(farm, input, read)
  if (counts.refused > 0 && !onlyGood) return { counts, isDone: false }
  const writer = new Writer(farm.connection, farm.seasonId)
  for (const { fate, field, boundary, acres, made } of rows) {
    if (made) stores.field.insert(writer, { ...made, boundary })
    if (!field || fate === 'refused' || fate === 'blank') continue
    if (fate !== 'unchanged') stores.field.update(writer, field.id, 'boundary', null, boundary)
    const planted = plantedAcres(acres)
    if (setAcres && planted !== null && planted > 0) stores.field.update(writer, field.id, 'acres', null, planted)
  }
  return { counts, isDone: true }
}
