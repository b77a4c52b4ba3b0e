/**
 * Who may import what. Read from top to bottom: the first line whose pattern matches a file is its line.
 * Arrows point towards src-shared; nothing imports the desktop shell. Change it here and say why in the commit.
 */
export interface Line {
  from: RegExp
  /** In words, for the message. */
  may: string
  /** Targets: own files by path from the root, node's as `node:…`, packages by name. */
  allow: RegExp[]
}

const shared = /^src-shared\//
const node = /^node:/
const kysely = /^kysely$/
const valibot = /^(valibot|@valibot\/to-json-schema)$/
const db = /^src-main\/engine\/db\//
const migrations = /^migrations\//
const plan = /^src-main\/engine\/plan\//
const engine = /^src-main\/engine\//
const svelte = /^svelte(\/|$)/
const context = /^src-main\/engine\/(engine|farm-file|backup-path|keeper\/[^/]+)\.ts$/

/** Hosts, and the files that tie nouns together: the only ones in engine/ that may know everything in it. */
export const tyingFiles = [
  // A season with all that happened in it.
  'archiving',
  // A file brought in is judged against every noun's rows.
  'bringing-boundaries',
  'bringing-in',
  // The plan by weeks under the locks of now; moves of a week, with the plan's solver.
  'calendar',
  'cli',
  'cli-file',
  // A year that is over, put in through the same doors as a person's entries.
  'demo-record',
  // The shell's own door, beside the pages'.
  'desk-calls',
  'drafting',
  'engine',
  'farm-file',
  // A farm's file, its backups, and whether a plan is being made of it.
  'farm-files',
  'handlers',
  'home',
  // What a log keeps of a fault.
  'bug-particulars',
  // Farms by their files, and by their backups where a file is gone.
  'kept-farms',
  // The book is the gathered season's, as a plan sees it.
  'house-book',
  'loopback',
  'open-close',
  'explaining',
  // What was planted, ordered and planned, beside what was hauled.
  'harvesting',
  // Orders come from a plan, and a plan is made around orders.
  'ordered-seed',
  'ordering',
  // Lots are placed by the rates of spring, with the plan's solver.
  'placing-lots',
  'problem-report',
  'planning',
  'reasoning',
  // What came against what was ordered; rates of what came on what was planned; entries with their stands; both ways.
  // Tables and boundaries, by the calls of the window.
  'cli-import',
  'import-answers',
  'import-templates',
  'cli-season',
  'cli-spring',
  'planting-record',
  // A command's way to a farm file.
  'cli-farm',
  // All that was written down in a season, put together; its review, and its lessons written where they belong.
  'cli-review',
  'reviewing',
  'review-input',
  // Files of strangers, read for the calls that bring them.
  'reading-files',
  'receiving',
  'spring-files',
  'spring-rates',
  'spring-waiting',
  'tracing',
  // An entry beside what was planned, ordered and brought.
  'unusual-entries',
  // The next season from the last one's records.
  'rolling',
  // The rules as the solver names them, of the plan in hand.
  'rules-in-force',
  'serve',
  // Proposals of a region go into several sheets and the assumptions.
  'starting',
  'start-alone',
  'start-in-app',
]
const tying = new RegExp(`^src-main/engine/(${tyingFiles.join('|')})\\.ts$`)
const nouns = /^src-main\/engine\/[^/]+\.ts$/
const demo = /^src-main\/demo\//
const tables =
  /^(csv-parse(\/.*)?|read-excel-file(\/.*)?|write-excel-file(\/.*)?|geographiclib-geodesic|shpjs|@tmcw\/togeojson|fflate|@xmldom\/xmldom)$/

/** `$own` stands for the importing file's own folder below src-renderer or src-renderer/pages. */
export const table: Line[] = [
  {
    from: /^src-shared\/recognize\/near\.ts$/,
    may: 'src-shared and the distance between two words (the only file that does)',
    allow: [shared, /^fastest-levenshtein$/],
  },
  { from: /^src-shared\//, may: 'src-shared and the schema library', allow: [shared, valibot] },
  { from: /^migrations\//, may: 'migrations only', allow: [migrations] },
  {
    from: /^src-main\/start\/dev\.mjs$/,
    may: 'node, src-main/start, and what serves the window while it is worked on',
    allow: [node, /^src-main\/start\//, /^vite$/, /^electron\.vite\.config\.ts$/],
  },
  { from: /^src-main\/start(\.mjs|\/)/, may: 'node and src-main/start', allow: [node, /^src-main\/start\//] },
  {
    from: /^src-main\/package\//,
    may: 'its own folder, node, the tools that pack and burn fuses, and the build that npm start makes',
    allow: [/^\$own/, node, /^(@electron\/fuses|electron-builder)$/, /^src-main\/start\/build\.mjs$/],
  },
  { from: /^src-main\/preload\.ts$/, may: 'electron and src-shared', allow: [/^electron$/, shared] },
  {
    from: /^src-main\/(main\.ts|app\/)/,
    may: 'electron, node, src-shared and src-main/app; the engine only by the path of its entry, as text',
    allow: [/^electron$/, node, shared, /^src-main\/app\//],
  },
  {
    // The types of a noun's columns come from its schema.
    from: /^src-main\/engine\/db\/noun-columns\.ts$/,
    may: 'what db/ may, and the schema library',
    allow: [node, kysely, shared, migrations, db, valibot],
  },
  {
    from: /^src-main\/engine\/db\/connect\.ts$/,
    may: 'what db/ may, and better-sqlite3 (the only file that does)',
    allow: [node, kysely, shared, migrations, db, /^better-sqlite3$/],
  },
  {
    from: /^src-main\/engine\/db\//,
    may: 'node, kysely, src-shared, migrations and db/; the connection type comes from db/connect.ts',
    allow: [node, kysely, shared, migrations, db],
  },
  {
    from: /^src-main\/engine\/plan\/gather\.ts$/,
    may: 'src-shared, plan/, noun files, db/ and kysely: the only reader among plan/',
    allow: [shared, plan, nouns, db, kysely],
  },
  {
    from: /^src-main\/engine\/plan\/plan-(thread|worker)\.ts$/,
    may: 'src-shared, plan/ and node',
    allow: [shared, plan, node],
  },
  { from: /^src-main\/engine\/plan\/solver\.ts$/, may: 'src-shared, plan/ and node', allow: [shared, plan, node] },
  { from: /^src-main\/engine\/plan\/solve-worker\.ts$/, may: 'plan/ and node', allow: [plan, node] },
  {
    // Apart from the thread that it runs in, so that it is tested in the test's own process.
    from: /^src-main\/engine\/plan\/run-model\.ts$/,
    may: 'plan/ and highs (the only file that does)',
    allow: [plan, /^highs$/],
  },
  {
    from: /^src-main\/engine\/plan\//,
    may: 'src-shared, plan/ and node:crypto (for a hash): these are pure',
    allow: [shared, plan, /^node:crypto$/],
  },
  {
    // The one keeper of a farm's files; `keeper.test.ts` holds that nobody else changes one.
    from: /^src-main\/engine\/keeper\//,
    may: 'everything in engine, node and src-shared',
    allow: [engine, node, shared],
  },
  {
    from: tying,
    may: 'everything in engine, the demo farm, node, kysely, the schema library, src-shared, migrations and the version',
    allow: [engine, demo, node, kysely, valibot, shared, migrations, /^package\.json$/],
  },
  {
    from: /^src-main\/demo\//,
    may: 'its own folder, src-shared, node, the schema library and engine/import, which reads its files as it reads anyone’s',
    allow: [demo, shared, node, valibot, tables, /^src-main\/engine\/import\//],
  },
  {
    from: /^src-main\/engine\/(import|export)\//,
    may: 'its own and its sister folder, noun files, db/, node, kysely, the table readers and src-shared',
    // sheets/: a row of a file is judged by the same checks as a typed one.
    allow: [/^src-main\/engine\/(import|export|sheets)\//, nouns, db, node, kysely, valibot, tables, shared],
  },
  {
    from: /^src-main\/engine\/[^/]+\.ts$/,
    may: 'db/, keeper/, engine.ts, farm-file.ts, backup-path.ts, the area of a boundary, node, kysely and src-shared; never another noun file',
    allow: [db, context, /^src-main\/engine\/import\/boundary-area\.ts$/, node, kysely, valibot, shared],
  },
  {
    from: /^src-main\/engine\//,
    // The schema library: sheets/ checks cells and rows with the nouns' own schemas.
    may: 'its own folder, db/, node, kysely, the schema library and src-shared',
    allow: [/^\$own/, db, node, kysely, valibot, shared],
  },
  {
    // What is read or printed of the program itself says of which version it is.
    from: /^src-renderer\/pages\/(file\/About|method\/MethodPage)\.svelte$/,
    may: 'what a page may, and the version',
    allow: [/^\$own/, /^src-renderer\/(ui|sheet|engine)\//, svelte, shared, /^package\.json$/],
  },
  {
    from: /^src-renderer\/pages\//,
    may: 'its own page, ui, grid, sheet, charts, engine, svelte and src-shared; never another page',
    allow: [/^\$own/, /^src-renderer\/(ui|grid|sheet|charts|engine)\//, svelte, shared],
  },
  {
    // A sheet stands on several pages: it ties the grid to the engine, so that neither need know the other.
    from: /^src-renderer\/sheet\//,
    may: 'its own folder, ui, grid, engine, svelte and src-shared',
    allow: [/^\$own/, /^src-renderer\/(ui|grid|engine)\//, svelte, shared],
  },
  {
    from: /^src-renderer\/charts\//,
    may: 'charts, chart.js, svelte and src-shared',
    allow: [/^\$own/, /^chart\.js(\/|$)/, svelte, shared],
  },
  {
    from: /^src-renderer\/[^/]+\//,
    may: 'its own folder, svelte, fonts and src-shared',
    allow: [/^\$own/, svelte, shared, /^@fontsource/],
  },
  {
    from: /^src-renderer\//,
    may: 'src-renderer, svelte, fonts and src-shared',
    allow: [/^src-renderer\//, svelte, shared, /^@fontsource/],
  },
]
