// The drawing board is a view of its own, loaded when the address asks for one.
import { mount } from 'svelte'
import { board } from './board.svelte'
import Board from './Board.svelte'

export function openBoard(target: HTMLElement): void {
  mount(Board, { target })
  void board.begin()
}
