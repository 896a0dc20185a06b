/** The screens and what each is shown with. */

import type { RunManner, RunWish } from '../prepare/run-wish.ts';
import type { SheetWish } from '../screens/sheet/sheet-screen.tsx';
import type { OpenedFile } from './opened-file.ts';

export type Screen =
  | { readonly name: 'choose' }
  | {
      readonly name: 'play';
      readonly wish: RunWish;
      /** Started at once: the player has asked for it already. */
      readonly atOnce: boolean;
    }
  /** `manner`: how the run went that the take was played in. */
  | { readonly name: 'review'; readonly takeId: string; readonly manner: RunManner }
  | { readonly name: 'open'; readonly file: OpenedFile }
  | { readonly name: 'edit'; readonly chartId: string }
  | ({ readonly name: 'sheet' } & SheetWish)
  | { readonly name: 'today' }
  | { readonly name: 'progress' }
  | { readonly name: 'journal' }
  | { readonly name: 'settings' }
  /** `back` is where it was asked for. */
  | { readonly name: 'calibrate'; readonly device: string; readonly back: Screen };
