/** The program: one screen at a time, and the way between them. */

import { lazy, Suspense, useCallback, useState } from 'react';
import type { Bridge, TakeSetUp } from '../../../shared/bridge/index.ts';
import type { Form } from '../../core/chart/index.ts';
import { ChooseScreen } from '../screens/choose/choose-screen.tsx';

const PlayScreen = lazy(() => import('../screens/play/play-screen.tsx'));
const ReviewScreen = lazy(() => import('../screens/review/review-screen.tsx'));

type Screen =
  | { readonly name: 'choose' }
  | { readonly name: 'play'; readonly form: Form; readonly setUp: TakeSetUp }
  | { readonly name: 'review'; readonly takeId: string };

export function App({ bridge }: { readonly bridge: Bridge }) {
  const [screen, setScreen] = useState<Screen>({ name: 'choose' });
  const [chartId, setChartId] = useState<string | null>(null);
  const review = useCallback((takeId: string) => setScreen({ name: 'review', takeId }), []);
  const choose = useCallback(() => setScreen({ name: 'choose' }), []);

  return (
    <main className="page">
      <Suspense fallback={<p>One moment …</p>}>
        {screen.name === 'choose' && (
          <ChooseScreen
            bridge={bridge}
            chartId={chartId}
            onChart={setChartId}
            onPlay={(form, setUp) => setScreen({ name: 'play', form, setUp })}
            onReview={review}
          />
        )}
        {screen.name === 'play' && (
          <PlayScreen
            bridge={bridge}
            form={screen.form}
            setUp={screen.setUp}
            onDone={review}
            onBack={choose}
          />
        )}
        {screen.name === 'review' && (
          <ReviewScreen bridge={bridge} takeId={screen.takeId} onBack={choose} />
        )}
      </Suspense>
    </main>
  );
}
