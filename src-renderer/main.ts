/** Puts the window into the page. All else hangs below App.svelte. */
import { mount } from 'svelte'
import App from './App.svelte'

// Not id="standwell": an element's id is also a property of window, and that name is the preload's.
const target = document.getElementById('here')
if (!target) throw new Error('index.html has no place for the window.')
target.replaceChildren()
mount(App, { target })
