// The passage as it was sailed is a view of its own, loaded when the address asks for one.
import { mount } from 'svelte'
import { sailed } from './sailed.svelte'
import SailedView from './SailedView.svelte'

export function openSailed(target: HTMLElement): void {
  mount(SailedView, { target })
  void sailed.begin()
}
