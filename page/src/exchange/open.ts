// The exchange is a view of its own, loaded when the address asks for it.
import { mount } from 'svelte'
import { exchange } from './exchange.svelte'
import ExchangeView from './ExchangeView.svelte'

export function openExchange(target: HTMLElement): void {
  mount(ExchangeView, { target })
  void exchange.begin()
}
