/** What is said aloud to those who do not see it. LiveRegion.svelte, once in the window, speaks it. */
import { untrack } from 'svelte'

export const spoken = $state({ words: '' })

/** Said again even if the words are the same as before. An effect that announces does not hang on what was said. */
export function announce(words: string): void {
  untrack(() => {
    spoken.words = words === spoken.words ? `${words}\u00a0` : words
  })
}
