/**
 * Words of spreadsheets → what a cell of a choice means. `sure` words mean one thing; `likely` ones are offered and asked about
 * once. Data. Common practice, no source.
 */

export interface Choice {
  value: string
  sure: string
  likely?: string
}

export const choiceWords: Readonly<Record<string, readonly Choice[]>> = {
  water: [
    {
      value: 'irrigated',
      sure: 'irrigated|irr|irrig|irrg|i|ir|p|pivot|center pivot|centre pivot|cp|drip|sdi|subsurface drip|pvt|lateral|linear|lateral move|traveler|traveller|traveling gun|hard hose|hose reel|sprinkler|overhead|under pivot|pivot irrigated|irr pivot|half pivot|wet|irrigated pivot|irr.|big gun|full irrigation|irrigatd|tow pivot|towable pivot|irrigation|watered',
      likely: 'well|pond|gun|w|partial|river|reel|both',
    },
    {
      value: 'dryland',
      sure: 'dryland|dry|d|dl|non irrigated|nonirrigated|non irr|nonirr|not irrigated|rainfed|rain fed|none|dry land|ni|n/i|no irrigation|no water|unirrigated|dryl|dry-land|non-irrig|rain|no irr|no pivot|dry corner|dry corners',
      likely: 'corner|corners|god',
    },
  ],
  rowPattern: [
    {
      value: 'single',
      sure: 'single|single row|single rows|singles|s|sgl|sing|single-row|1|sr|sng|solo',
      likely: 'conventional|standard|regular',
    },
    {
      value: 'twin',
      sure: 'twin|twin row|twin rows|t|tw|twins|twin-row|tr|twn|double|2|dbl',
      likely: 'double row|paired',
    },
  ],
  tillage: [
    {
      value: 'conventional',
      sure: 'conventional|conv|conv till|conventional till|ct|full|full till|bottom plow|turned|c|plow|plowed|moldboard|broke|clean till|convent|conv.|full tillage|clean|disk|disked|turn|turn plow',
      likely: 'disc|rip|rip & bed|ripped|bed|chisel',
    },
    {
      value: 'strip',
      sure: 'strip|strip till|strip-till|st|striptill|s|strip tillage|conservation|cons till|reduced|reduced till|strip till rye|strip till wheat|strip till oats|strip till into rye|strip till into cover|strip-till rye|no till|no-till|notill|nt|min till|minimum|zone till',
      likely: 'cover crop|into cover|rip strip',
    },
  ],
  growth: [
    { value: 'slow', sure: 'slow|weak|small|poor|short|light', likely: 'low|thin' },
    { value: 'usual', sure: 'usual|normal|average|medium|ok|avg|moderate|med|typical', likely: 'good|fine|fair' },
    { value: 'rank', sure: 'rank|heavy|lush|excessive|strong|too much|very rank|big', likely: 'high|large|tall' },
  ],
  oilType: [
    {
      value: 'high oleic',
      sure: 'high oleic|ho|h/o|high-oleic|hi oleic|hi-oleic|high ole|h.o.|yes|y|x|high|hol|h oleic',
      likely: 'mid oleic|mid|oleic',
    },
    {
      value: 'normal',
      sure: 'normal|no|n|conventional|regular|norm|non ho|not high oleic|low|normal oleic|reg|std|standard|traditional|non|conv',
      likely: '-',
    },
  ],
  marketType: [
    { value: 'runner', sure: 'runner|runners|run|rnr|r', likely: 'southeastern runner' },
    { value: 'virginia', sure: 'virginia|virginias|va|virg|va type|v', likely: 'jumbo' },
    { value: 'spanish', sure: 'spanish|span|sp', likely: 's' },
    { value: 'valencia', sure: 'valencia|val', likely: 'red' },
  ],
  vine: [
    {
      value: 'compact',
      sure: 'compact|small|short|bunch|sm|sm runner|small runner|s|upright|erect|compact bunch|less|low',
      likely: 'light|semi bunch|sparse',
    },
    {
      value: 'medium',
      sure: 'medium|med|moderate|average|m|avg|intermediate|mid|mod|normal|semi runner|semi-runner|medium vine|med runner|medium runner',
      likely: 'runner|prostrate|semi spreading',
    },
    {
      value: 'large',
      sure: 'large|big|lg|lg runner|large runner|l|heavy|tall|vigorous|med large|med-large|medium large|medium-large|lrg|large vine|strong|high|rank',
      likely: 'spreading|aggressive',
    },
    {
      value: 'very large',
      sure: 'very large|vlarge|v large|vl|xl|extra large|very lg|v lg|very big|huge|very heavy|v. large|xlarge|very rank|very vigorous|x-large|vlg|very high|largest',
      likely: 'massive',
    },
  ],
  'cost kind': [
    { value: 'seed', sure: 'seed|seeds|peanut seed|seed cost' },
    { value: 'return credit', sure: 'return credit|seed return|returned seed|returns', likely: 'credit|refund' },
    {
      value: 'measure',
      sure: 'measure|practice|spray|sprays|fungicide|insecticide|nematicide|crop protection|inoculant|gypsum',
      likely: 'chemical|chemicals|chem|chems|herbicide|custom spray',
    },
    { value: 'replanting', sure: 'replanting|replant' },
    { value: 'digging', sure: 'digging|dig|inverting' },
    { value: 'combining', sure: 'combining|combine|picking', likely: 'harvest|harvesting' },
    {
      value: 'other',
      sure: 'other|misc|miscellaneous',
      likely: 'custom|fuel|labor|repair|repairs|rent|fertilizer|lime|insurance|freight|hauling|drying',
    },
  ],
  'machine kind': [
    { value: 'planter', sure: 'planter|planters|plant|planting|seeder', likely: 'drill' },
    {
      value: 'digger',
      sure: 'digger|diggers|dig|digging|inverter|inverters|digger inverter|digger-inverter|digger/inverter|shaker inverter|digger shaker',
      likely: 'shaker|plow',
    },
    {
      value: 'combine',
      sure: 'combine|combines|picker|pickers|peanut combine|combining|picking|harvester|thresher|peanut picker',
      likely: 'harvest|cart',
    },
  ],
  priceBasis: [
    { value: 'contract', sure: 'contract|cont|contracted|c|k', likely: 'option' },
    { value: 'market', sure: 'market|mkt|open|cash|spot|open market|m', likely: 'free' },
    { value: 'loan schedule', sure: 'loan schedule|loan|ccc|ccc loan|schedule|l', likely: 'gov' },
  ],
  level: [
    {
      value: 'none',
      sure: 'none|no|n|0|nil|clean|never|absent|not seen|nothing|non|zero|free|not found|none seen|no problem',
      likely: '-|ok|good|fine',
    },
    {
      value: 'low',
      sure: 'low|l|light|lo|slight|very low|vl|trace|minor|little|lt|very light|sl|a little|few|minimal|small|low-|not much|hardly any|barely any|very little',
      likely: 'some spots|tr|spotty|a few spots|occasional',
    },
    {
      value: 'moderate',
      sure: 'moderate|mod|m|med|medium|average|avg|mid|moderat|fair amount',
      likely: 'some|usual|normal|yes|y|x|present|typical|common',
    },
    {
      value: 'high',
      sure: 'high|h|hi|heavy|hvy|hgh|a lot|lots|much|big problem',
      likely: 'bad|problem|hot|poor|strong|rough',
    },
    {
      value: 'severe',
      sure: 'severe|sev|very high|vh|very heavy|extreme|s|very severe|severe!|v high',
      likely: 'very bad|terrible|hot spot|awful|wiped out|really bad|ate up|worst',
    },
  ],
}

/** Low and moderate together, as in “low-mod”, are between; the higher is taken and asked about. */
export const yesWords = 'yes|y|true|x|1|t|✓|✔|√|yep|si|treated|trt|trtd'
export const noWords = 'no|n|false|0|f|none|nope|-|untreated|untrt|raw|not treated|bare'

/** What empties a cell: nothing is known. */
export const emptyWords = new Set([
  '',
  '-',
  '--',
  '---',
  '–',
  '—',
  '?',
  '??',
  'n/a',
  'na',
  '#n/a',
  'n.a.',
  'unknown',
  'unk',
  'tbd',
  'null',
  'nil',
  '.',
  '…',
  '...',
  'blank',
  '#ref!',
  '#value!',
  '#div/0!',
  '#name?',
  'not tested',
  'nt',
  'n/k',
  'not sampled',
  'no data',
  'dont know',
  "don't know",
  'tba',
  'not rated',
  'nr',
])

/** As above a cell: the same as the row before. */
export const dittoWords = new Set([
  '"',
  '″',
  '”',
  '“',
  "''",
  '〃',
  'ditto',
  'same',
  'do.',
  'do',
  '" "',
  'same as above',
  '"""',
  '^',
])

/** Letters and words of ratings → 1–9, 1 the most resistant. */
export const ratingWords: Readonly<Record<string, number>> = {
  ...each(1, 'hr|vr|highly resistant|very resistant|immune|res+|r+|very good'),
  ...each(2, 'r|resistant|res|excellent|e|ex|resist'),
  ...each(3, 'good|g|t|tolerant|tol|vg|r-|r/mr'),
  ...each(
    4,
    'mr|moderately resistant|mod resistant|mod res|m r|moderate resistance|m resistant|partial resistance|mod. res.',
  ),
  ...each(5, 'i|int|intermediate|average|avg|m|moderate|medium|fair|f|mod|mr-ms|mr/ms|ms-mr|ms/mr'),
  ...each(6, 'ms|moderately susceptible|mod susceptible|mod sus|m s|mod. sus.'),
  ...each(8, 's|susceptible|sus|susc|poor|p|none'),
  ...each(9, 'hs|vs|highly susceptible|very susceptible|very poor|vp|s+'),
}

function each(value: number, words: string): Record<string, number> {
  return Object.fromEntries(words.split('|').map((word) => [word, value]))
}

/** Crops as growers shorten them → as they are kept. */
export const cropWords: Readonly<Record<string, string>> = {
  ...crop(
    'peanut',
    'peanut|peanuts|pnut|pnuts|p-nut|p-nuts|pnt|pnts|pn|goober|goobers|peanut runner|runner peanut|runner peanuts|runners|groundnut|groundnuts|pea nut|pea nuts|p nuts|pt|peanuts r|pea-nuts|p.nuts|pnts.|peanut (runner)|nuts',
  ),
  ...crop('cotton', 'cotton|ctn|cot|cott|cttn|cotn|ct|cotton.'),
  ...crop('corn', 'corn|crn|field corn|maize|cn|corn (grain)|grain corn'),
  ...crop(
    'soybean',
    'soybean|soybeans|soys|soy|sb|soybns|soybn|sybns|sbns|sby|sbean|sbeans|beans soy|soy beans|soy bean',
  ),
  ...crop('wheat', 'wheat|wht|wh'),
  ...crop('sorghum', 'sorghum|grain sorghum|milo|gs'),
  ...crop('bahiagrass', 'bahia|bahiagrass|bahia grass|bahia sod'),
  ...crop('fallow', 'fallow|idle|none|not planted|fal|nothing|out'),
  ...crop('tobacco', 'tobacco|tob|tobac'),
  ...crop('sweet potato', 'sweet potato|sweet potatoes|sweetpotato|sweetpotatoes|swt potato'),
  ...crop('watermelon', 'watermelon|watermelons|melons'),
  ...crop('silage', 'silage|corn silage'),
}

function crop(value: string, words: string): Record<string, string> {
  return Object.fromEntries(words.split('|').map((word) => [word, value]))
}

/** One letter for a crop, where a whole rotation is written in letters. */
export const cropLetters: Readonly<Record<string, string>> = {
  p: 'peanut',
  c: 'cotton',
  s: 'soybean',
  w: 'wheat',
  f: 'fallow',
  m: 'corn',
  k: 'corn',
  b: 'bahiagrass',
}

/** Rows that are no rows of the table, by how their first words begin. */
export const totalWords =
  /^(lsd\b|c\.?v\.?( ?\(?%\)?)?$|p[ -]value)|^(grand |sub ?|farm |all )?(totals?|tot\.?|ttl\.?|sum|average|avg|ave|mean|weighted avg)\b|\b(sub ?)?totals?:?$|^(total|sum)\b/i
export const noteWords =
  /^(\*|†|‡|note|notes|n\.b\.|source|legend|key|scale|updated|printed|page \d|prices? (subject|good|are|incl)|all prices|ratings?:|rating scale|call|terms|disclaimer|\d{1,2} ?=|\(\d+\)|e\.g\.|see )/i
