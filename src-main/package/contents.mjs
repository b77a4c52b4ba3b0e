/**
 * What is in a package of Standwell, for each system; electron-builder reads it. `pack.mjs` runs it, a test starts what
 * comes of it. Nothing is published and nothing asks for updates, so no address of any server stands here.
 */
import { writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { project } from '../start/build.mjs'
import { burnFuses } from './fuses.mjs'
import { licenceTexts } from './licence-texts.mjs'

/**
 * What goes into the archive, named for each system as a whole: a list of exclusions alone would mean all the rest.
 * @param {'linux' | 'win32' | 'darwin'} system as the database names what was built for it
 */
const filesFor = (system) => [
  'package.json',
  'out/**',
  // The command line and the window in a browser are run from the sources.
  '!out/main/{cli,cli-*,start-alone}.{js,js.map}',
  '!out/{built-from,licences.txt}',
  'src-main/package/icon/linux/256x256.png',
  // Of packages that are not bundled only what runs: no C sources, no headers, no types, no other system's database.
  '!node_modules/better-sqlite3/{build,deps,src}',
  '!node_modules/better-sqlite3/binding.gyp',
  `!node_modules/better-sqlite3/prebuilds/!(${system}-\${arch}).node`,
  '!node_modules/node-addon-api',
  '!node_modules/highs/build/highs.js',
  '!node_modules/highs/types.d.ts',
  '!node_modules/**/README.md',
]

/** @param {import('electron-builder').AfterPackContext} packed @returns {string} the program in which the fuses are */
function programOf({ appOutDir, packager, electronPlatformName }) {
  const name = packager.appInfo.productFilename
  const ending = { darwin: '.app', win32: '.exe' }[electronPlatformName]
  return join(appOutDir, ending ? `${name}${ending}` : packager.executableName)
}

/** @type {import('electron-builder').Configuration} */
export const contents = {
  appId: 'standwell.desktop',
  productName: 'Standwell',
  copyright: 'MIT licence',
  directories: { output: 'dist', buildResources: 'src-main/package' },
  // Not Electron's own habit for names: a person sees which file is for which machine.
  artifactName: 'Standwell-${version}-${os}-${arch}.${ext}',
  extraMetadata: {
    // Names the program to the desktop, which so finds the icon of a running window.
    desktopName: 'standwell.desktop',
    // Asked for by the packer of .deb files; there is no such page.
    homepage: '',
  },
  extraResources: [{ from: 'out/licences.txt', to: 'LICENCES.txt' }],
  // A page's words are English; Chromium's own menus and boxes come in fifty languages.
  electronLanguages: ['en-US'],
  asar: { smartUnpack: false },
  // A library that the system loads must be a file. All else stays in the archive, whose hash the program holds.
  asarUnpack: ['**/*.node'],
  // The database comes built for every system, by an interface that no version of Electron changes.
  npmRebuild: false,
  publish: null,
  beforePack: () => writeFileSync(join(project, 'out', 'licences.txt'), licenceTexts()),
  afterPack: (packed) => burnFuses(programOf(packed)),
  fileAssociations: [
    {
      ext: 'farm',
      name: 'Standwell farm',
      description: 'Farm of Standwell',
      mimeType: 'application/x-standwell-farm',
      role: 'Editor',
      icon: 'icon/icon',
    },
  ],
  linux: {
    target: ['AppImage', 'deb'],
    executableName: 'standwell',
    syncDesktopName: true,
    category: 'Office',
    synopsis: 'Which peanut variety on which field, and how many bags from whom',
    maintainer: 'Standwell',
    icon: 'src-main/package/icon/linux',
    files: filesFor('linux'),
  },
  win: { target: ['nsis'], icon: 'src-main/package/icon/icon.ico', files: filesFor('win32') },
  // For one person or for all, where they say; the farms stay when the program goes.
  nsis: {
    oneClick: false,
    allowToChangeInstallationDirectory: true,
    deleteAppDataOnUninstall: false,
    // Only something that fetches updates would read what this writes.
    differentialPackage: false,
  },
  dmg: { writeUpdateInfo: false },
  mac: {
    target: ['dmg'],
    icon: 'src-main/package/icon/icon.icns',
    category: 'public.app-category.business',
    files: filesFor('darwin'),
  },
}
