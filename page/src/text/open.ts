// The files as texts are a view of their own, loaded when the address asks for one.
import { mount } from 'svelte'
import TextView from './TextView.svelte'
import { texts } from './texts.svelte'

export function openText(target: HTMLElement): void {
  mount(TextView, { target })
  void texts.begin()
}
