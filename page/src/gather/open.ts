// Making a new call is a view of its own, loaded when the address asks for one.
import { mount } from 'svelte'
import { gather } from './gather.svelte'
import GatherView from './GatherView.svelte'

export function openGather(target: HTMLElement): void {
  mount(GatherView, { target })
  void gather.begin()
}
