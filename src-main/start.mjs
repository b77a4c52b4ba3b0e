/**
 * What `npm start` and `npm run standwell` run. Plain JavaScript that any Node can read, because its first duty
 * is to turn away a Node that cannot load the database; only then are its helpers loaded.
 *   (nothing)   build when needed, then the desktop window, or the same window in a browser
 *   cli …       build when needed, then the command line; stdout is the command's alone
 *   build       build now
 *   dev         for those who work on it: the window changes as its files do, the rest is built and started anew
 *   dev browser the same in a browser
 */
if (Number(process.versions.node.split('.')[0]) < 22) {
  process.stderr.write('Standwell needs Node 22 or later; run it through npm.\n')
  process.exit(1)
}

const [verb, ...rest] = process.argv.slice(2)
const { build, buildIfNeeded } = await import('./start/build.mjs')

if (verb === 'build') await build()
else if (verb === 'cli') {
  await buildIfNeeded()
  const { runCommandLine } = await import('./start/command-line.mjs')
  await runCommandLine(rest)
} else if (verb === 'dev') {
  const { develop } = await import('./start/dev.mjs')
  await develop(rest)
} else if (verb === undefined) {
  await buildIfNeeded()
  const { openShell } = await import('./start/shell.mjs')
  await openShell()
} else {
  process.stderr.write(`There is no “${verb}” here. Use npm start, or npm run standwell -- help.\n`)
  process.exit(2)
}
