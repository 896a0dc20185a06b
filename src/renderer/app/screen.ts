/** The screens and what each is shown with. */

import type { TakeSetUp } from '../../../shared/bridge/index.ts';
import type { Form } from '../../core/chart/index.ts';
import type { KeyCycle } from '../../core/plan/index.ts';
import type { HeardWish } from '../prepare/heard-wish.ts';
import type { SheetWish } from '../screens/sheet/sheet-screen.tsx';
import type { OpenedFile } from './opened-file.ts';

export type Screen =
  | { readonly name: 'choose' }
  | {
      readonly name: 'play';
      readonly form: Form;
      readonly setUp: TakeSetUp;
      /** Whether the tempo follows readiness from take to take. */
      readonly nudge: boolean;
      /** In which order the keys follow one another after each take's choruses; null: the key stays. */
      readonly keyCycle: KeyCycle | null;
      /** The example heard before each take; null: only the count-in. */
      readonly heard: HeardWish | null;
    }
  | { readonly name: 'review'; readonly takeId: string }
  | { readonly name: 'open'; readonly file: OpenedFile }
  | { readonly name: 'edit'; readonly chartId: string }
  | ({ readonly name: 'sheet' } & SheetWish)
  | { readonly name: 'today' }
  | { readonly name: 'progress' }
  | { readonly name: 'journal' }
  | { readonly name: 'settings' }
  /** `back` is where it was asked for. */
  | { readonly name: 'calibrate'; readonly device: string; readonly back: Screen };
