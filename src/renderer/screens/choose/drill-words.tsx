/** What a drill is and what the grader says of it, in a sentence each. */

import type { Drill, WrittenLine } from '../../../core/line/index.ts';

interface DrillWordsProps {
  readonly drill: Drill;
  /** As it was written here, or null when it could not be. */
  readonly line: WrittenLine | null;
}

export function DrillWords({ drill, line }: DrillWordsProps) {
  const { name, about, graded, level } = drill;
  return (
    <p className="drill-words">
      <strong>{name}.</strong> {about} <span className="soft">{graded}</span>
      {line !== null && line.level !== level && <> Over these palettes: clean at {line.level}.</>}
    </p>
  );
}
