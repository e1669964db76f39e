// The card's form is a view of its own, loaded when the address asks for one.
import { mount } from 'svelte'
import { card } from './card.svelte'
import CardView from './CardView.svelte'

export function openCard(target: HTMLElement): void {
  mount(CardView, { target })
  void card.begin()
}
