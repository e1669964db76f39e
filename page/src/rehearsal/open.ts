// The rehearsal is a view of its own, loaded when the address asks for it.
import { mount } from 'svelte'
import { rehearsal } from './rehearsal.svelte'
import RehearsalView from './RehearsalView.svelte'

export function openRehearsal(target: HTMLElement): void {
  mount(RehearsalView, { target })
  void rehearsal.begin()
}
