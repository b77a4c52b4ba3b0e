/** Which lot went into which ground, and which ground had which lot: for as long as the file lives. */
export interface TracePlanting {
  plantingId: number
  lotId: number
  lot: string
  variety: string
  dealer: string | null
  fieldId: number
  field: string
  block: string | null
  plantedOn: string | null
  isFinished: boolean
  /** [acre] of the whole entry; where several lots were planted in it they share it. */
  acres: number | null
  /** [lb] of this lot in it. */
  pounds: number
  packs: number | null
  /** Other lots in the same entry: which of the acres had which of them nobody can say. */
  mixedWith: string[]
  operator: string | null
}

export interface TraceLot {
  id: number
  name: string
  lotNumber: string
  variety: string
  dealer: string | null
  shipper: string | null
  arrivedOn: string | null
  state: 'received' | 'refused' | 'returned'
  treatment: string | null
  isTreated: boolean
  came: number
  planted: number
  returned: number
  left: number
  counted: number | null
  off: number | null
  closes: boolean
  plantings: TracePlanting[]
}

export interface TraceField {
  id: number
  name: string
  acres: number
  plantings: TracePlanting[]
}

export interface TraceNow {
  farm: string
  season: number
  lots: TraceLot[]
  fields: TraceField[]
}
