import '@fontsource/libertinus-serif/latin-400.css'
import '@fontsource/libertinus-serif/latin-400-italic.css'
import '@fontsource/libertinus-serif/latin-600.css'
import '@fontsource/source-sans-3/latin-400.css'
import '@fontsource/source-sans-3/latin-600.css'
import './page.css'
import { mount } from 'svelte'
import App from './App.svelte'
import { reader } from './lib/reader.svelte'
import { sheet } from './sheet.svelte'

const target = document.getElementById('page')
reader.read()
const asked = new URLSearchParams(location.search)
if (target && asked.has('card')) {
  void import('./card/open').then(({ openCard }) => openCard(target))
} else if (target && asked.has('exchange')) {
  void import('./exchange/open').then(({ openExchange }) => openExchange(target))
} else if (target && asked.has('rehearsal')) {
  void import('./rehearsal/open').then(({ openRehearsal }) => openRehearsal(target))
} else if (target && asked.has('sailed')) {
  void import('./sailed/open').then(({ openSailed }) => openSailed(target))
} else if (target && asked.has('new')) {
  void import('./gather/open').then(({ openGather }) => openGather(target))
} else if (target && asked.has('draw')) {
  void import('./board/open').then(({ openBoard }) => openBoard(target))
} else if (target && asked.has('text')) {
  void import('./text/open').then(({ openText }) => openText(target))
} else if (target) {
  mount(App, { target })
  void sheet.begin()
}
