/**
 * Three builds: the main side (shell, engine hosts, command line), the preload and the window.
 * Only what must stay on disk as it is (better-sqlite3, highs) is external; all else is bundled.
 */
import { svelte } from '@sveltejs/vite-plugin-svelte'
import { defineConfig } from 'electron-vite'
import { existsSync } from 'node:fs'
import { resolve } from 'node:path'
import type { Plugin } from 'vite'

const root = import.meta.dirname
const at = (path: string) => resolve(root, path)

const entries = {
  main: at('src-main/main.ts'),
  'start-in-app': at('src-main/engine/start-in-app.ts'),
  'start-alone': at('src-main/engine/start-alone.ts'),
  cli: at('src-main/engine/cli.ts'),
  'plan-worker': at('src-main/engine/plan/plan-worker.ts'),
  'solve-worker': at('src-main/engine/plan/solve-worker.ts'),
  'read-worker': at('src-main/engine/import/read-worker.ts'),
}

/** Names the code that `begin.ts` will ask for in the page's head, so that it is there when it is asked for. */
function fetchEarly(): Plugin {
  return {
    name: 'fetch-early',
    apply: 'build',
    transformIndexHtml: {
      order: 'post',
      handler(_html, { bundle = {} }) {
        const chunks = Object.values(bundle).filter((file) => file.type === 'chunk')
        const main = chunks.find(({ facadeModuleId }) => facadeModuleId === at('src-renderer/main.ts'))
        if (!main) throw new Error('The window has no main.ts of its own.')
        const scripts = [main.fileName, ...main.imports]
        const styles = chunks
          .filter(({ fileName }) => scripts.includes(fileName))
          .flatMap(({ viteMetadata }) => [...(viteMetadata?.importedCss ?? [])])
        // What the page links itself is on its way already.
        const known = new Set(
          chunks.filter(({ isEntry }) => isEntry).flatMap(({ viteMetadata }) => [...(viteMetadata?.importedCss ?? [])]),
        )
        return [
          ...scripts.map((href) => ({ rel: 'modulepreload', href: `./${href}` })),
          ...[...new Set(styles)]
            .filter((style) => !known.has(style))
            .map((href) => ({ rel: 'preload', as: 'style', href: `./${href}` })),
        ].map((attrs) => ({
          tag: 'link',
          attrs: { ...attrs, crossorigin: attrs.rel === 'modulepreload' },
          injectTo: 'head',
        }))
      },
    },
  }
}

/** fflate names a variable `require`, as electron-vite does: in one chunk the two would not load. */
function ownRequire(): Plugin {
  return {
    name: 'own-require',
    transform(code, id) {
      if (!/[\\/]fflate[\\/]esm[\\/]index\.mjs$/.test(id)) return null
      return {
        code: code.replace('var require =', 'var nodeRequire =').replace("= require('worker", "= nodeRequire('worker"),
      }
    },
  }
}

export default defineConfig({
  main: {
    plugins: [ownRequire()],
    build: {
      outDir: at('out/main'),
      target: 'node22',
      sourcemap: true,
      rolldownOptions: {
        input: Object.fromEntries(Object.entries(entries).filter(([, path]) => existsSync(path))),
        external: ['electron', 'better-sqlite3', 'highs', /^node:/],
        // Everything flat in one folder: `new URL('solve-worker.js', import.meta.url)` then holds in every chunk.
        output: {
          format: 'es',
          entryFileNames: '[name].js',
          chunkFileNames: '[name]-[hash].js',
          // Maps ship, so that a fault that a person passes on names our files and lines; the sources themselves do not.
          sourcemapExcludeSources: true,
        },
      },
    },
  },
  preload: {
    build: {
      outDir: at('out/preload'),
      rolldownOptions: {
        input: { preload: at('src-main/preload.ts') },
        external: ['electron'],
        // A sandboxed preload is loaded as CommonJS, whatever package.json says.
        output: { format: 'cjs', entryFileNames: '[name].cjs' },
      },
    },
  },
  renderer: {
    root: at('src-renderer'),
    base: './',
    plugins: [svelte({ configFile: false }), fetchEarly()],
    build: {
      outDir: at('out/renderer'),
      emptyOutDir: true,
      minify: true,
      target: 'es2022',
      // The content policy refuses data: fonts, so nothing is inlined.
      assetsInlineLimit: 0,
      modulePreload: { polyfill: false },
      rolldownOptions: { input: { index: at('src-renderer/index.html') } },
    },
  },
})
