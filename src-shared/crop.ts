/** What a grower calls a crop → whether it is peanut. Rotation and disease rest on it, so a word nobody knows is asked about. */

export type CropKind = 'peanut' | 'other' | 'unknown'

/** "Pnuts", "pea-nuts", "GP" (green peanuts), "groundnuts". Common practice, no source. */
const peanutWord = /\b(pea ?nuts?|p ?nuts?|pnts?|gp|g p|green pea ?nuts?|ground ?nuts?|goobers?)\b/
/** A market type alone names the crop: nothing else on such a farm is called so. */
const marketType = /^((high|mid|ho|hi) )?(oleic )?(runners?|virginias?|spanish|valencias?)( types?)?$/
/** A forage, and words that say what did not grow. */
const notPeanut = /\b(perennial|rhizoma|forage|no|not|non|without|before|after|ex)\b/

/** Crops of a peanut farm's rotation, as they are written, in the singular. Common practice, no source. */
const others = new Set(
  (
    'corn maize sweetcorn silage popcorn cotton ctn cot soybean soy bean sb wheat wht oat rye barley triticale grain ' +
    'smallgrain ryegrass sorghum milo millet sesame sunflower canola rapeseed rice sugarcane cane tobacco flax hemp ' +
    'sod bahia bahiagrass bermuda bermudagrass fescue grass pasture hay alfalfa clover forage turf legume pea cowpea ' +
    'fallow idle crp rest resting none cover covercrop pine timber tree pecan blueberry orchard peach strawberry ' +
    'vegetable veg produce watermelon melon cantaloupe cucumber squash pumpkin zucchini tomato pepper eggplant onion ' +
    'carrot cabbage collard broccoli kale green mustard turnip potato sweetpotato snapbean butterbean okra lettuce ' +
    'spinach garlic radish beet lupin vetch sunnhemp buckwheat'
  ).split(' '),
)

/** Words that say how it grew and not what. */
const asides =
  /^(irr|irrigated|dry|dryland|land|strip|till|no|conventional|conv|winter|spring|summer|fall|early|late|seed|field|sweet|small|white|yellow|double|dbl|crop|gmo|full|season|first|second|sunn|snap|butter)$/

/**
 * @param text as written in a crop history, without its year: "Pnuts", "runner peanuts", "wheat/soybeans"
 * @returns peanut also where it shares the year with another crop; unknown where no word of it is known
 */
export function cropKind(text: string): CropKind {
  const plain = text
    .toLowerCase()
    .replace(/[^a-z]+/g, ' ')
    .replace(/\bno till\b/g, '')
    .trim()
  if ((peanutWord.test(plain) || marketType.test(plain)) && !notPeanut.test(plain)) return 'peanut'
  const words = plain.split(' ').filter((word) => word !== '' && !asides.test(word))
  return words.length > 0 && words.every((word) => isOther(word)) ? 'other' : isForage(plain) ? 'other' : 'unknown'
}

const isForage = (plain: string) => /\b(perennial|rhizoma|forage) pea ?nuts?\b/.test(plain)

/** In the singular or the plural. */
function isOther(word: string): boolean {
  return [word, word.replace(/s$/, ''), word.replace(/es$/, ''), word.replace(/ies$/, 'y')].some((form) =>
    others.has(form),
  )
}

export function isPeanut(crop: string): boolean {
  return cropKind(crop) === 'peanut'
}

/** A crop word that Standwell does not know, and the fields whose history names it. */
export interface CropQuestion {
  /** As first written. */
  crop: string
  fields: string[]
}

/**
 * What must be asked before rotation can be believed: every unknown crop once.
 * @param settled words the manager has said are not peanut, in lower case
 */
export function cropQuestions(
  fields: readonly { name: string; history: readonly { crop: string }[] }[],
  settled: readonly string[],
): CropQuestion[] {
  const questions = new Map<string, CropQuestion>()
  for (const { name, history } of fields) {
    for (const { crop } of history) {
      const word = cropWord(crop)
      if (cropKind(crop) !== 'unknown' || settled.includes(word)) continue
      const question = questions.get(word) ?? { crop: crop.trim(), fields: [] }
      if (!question.fields.includes(name)) question.fields.push(name)
      questions.set(word, question)
    }
  }
  return [...questions.values()]
}

/** Two spellings of one word: the same but for case and blanks. */
export const cropWord = (crop: string) => crop.trim().toLowerCase().replace(/\s+/g, ' ')

/** Where a farm keeps its answers. */
export const notPeanutSetting = 'crops that are not peanut'
