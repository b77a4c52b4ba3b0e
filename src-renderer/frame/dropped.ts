/** What is dragged onto the window, looked at. Pure. */

/** What is dragged carries files; their names are known only once they are dropped. */
export const carriesFiles = (event: DragEvent) => event.dataTransfer?.types.includes('Files') ?? false

/** The farm's file among what was dropped, or null. */
export function farmDropped(event: DragEvent): File | null {
  return [...(event.dataTransfer?.files ?? [])].find(({ name }) => /\.farm$/i.test(name)) ?? null
}
