/**
 * A list that grows for as long as a take is played, kept in pieces. An array that is full is copied whole into one half as
 * long again, which for a million entries takes longer than a frame lasts; here what is kept never moves.
 */

export interface LongList<Item> {
  readonly length: number;
  /** The item at an index, undefined where there is none. */
  at(index: number): Item | undefined;
  push(item: Item): void;
  /** Puts an item in the place of another. The index must be below the length. */
  set(index: number, item: Item): void;
  /** Puts an item before another; the work is the number of items after it. The index must not be above the length. */
  insert(index: number, item: Item): void;
  /** The items from one index up to another, as an array of their own; all of them when none is given. */
  slice(from?: number, to?: number): Item[];
}

/** Items in a piece. Our own choice: copying this many takes some microseconds. */
export const PIECE_ITEMS = 4096;

/** A list without items. */
export function createLongList<Item>(): LongList<Item> {
  const pieces: Item[][] = [];
  let length = 0;

  const pieceOf = (index: number): Item[] | undefined => pieces[Math.floor(index / PIECE_ITEMS)];

  function set(index: number, item: Item): void {
    const piece = pieceOf(index);
    if (piece !== undefined) piece[index % PIECE_ITEMS] = item;
  }

  function push(item: Item): void {
    const piece = pieceOf(length);
    if (piece === undefined) pieces.push([item]);
    else piece.push(item);
    length++;
  }

  return {
    get length() {
      return length;
    },
    at: (index) => pieceOf(index)?.[index % PIECE_ITEMS],
    push,
    set,
    insert(index, item) {
      // Piece by piece from the end: each gives its last item to the one after it, which has room by then.
      const last = Math.floor(index / PIECE_ITEMS);
      for (let at = pieces.length - 1; at >= last; at--) {
        const piece = pieces[at];
        const over = piece?.length === PIECE_ITEMS ? piece.pop() : undefined;
        if (over !== undefined) {
          const next = pieces[at + 1];
          if (next === undefined) pieces.push([over]);
          else next.unshift(over);
        }
      }
      const piece = pieces[last];
      if (piece === undefined) pieces.push([item]);
      else piece.splice(index % PIECE_ITEMS, 0, item);
      length++;
    },
    slice(from = 0, to = length) {
      const firstPiece = Math.floor(from / PIECE_ITEMS);
      const base = firstPiece * PIECE_ITEMS;
      const touched = pieces.slice(firstPiece, Math.floor((to - 1) / PIECE_ITEMS) + 1);
      return touched.flat().slice(from - base, to - base);
    },
  };
}
