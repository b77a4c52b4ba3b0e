/** How often a change was refused because what is at hand is only to be read: the top line says so for every page. */
export const refused = $state({ count: 0 })
