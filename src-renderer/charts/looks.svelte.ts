/** Counts how often the looks of screen or paper have changed, so that a canvas is drawn again in their colors. */
export class Looks {
  count = $state(0)

  /** While a component is made. */
  constructor() {
    $effect(() => {
      const queries = [matchMedia('(prefers-color-scheme: dark)'), matchMedia('print')]
      const look = () => (this.count += 1)
      for (const query of queries) query.addEventListener('change', look)
      return () => {
        for (const query of queries) query.removeEventListener('change', look)
      }
    })
  }
}
