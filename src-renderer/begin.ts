/**
 * The first code of the page. The sheet with the name on it is painted before the window's own code runs, which is fetched
 * meanwhile: electron.vite.config.ts names it in the page's head.
 */
import './styles/tokens.css'
import './styles/base.css'
import './styles/print.css'

let hasBegun = false

function begin() {
  if (hasBegun) return
  hasBegun = true
  void import('./main.ts')
}

requestAnimationFrame(() => setTimeout(begin))
// A page in the background paints no frame.
setTimeout(begin, 300)
