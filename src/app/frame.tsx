// The frame: the one input hook, the one paste hook, and the picture painted row by row.
import { Box, Text, useApp, useInput, usePaste, useWindowSize } from 'ink';
import { memo, useEffect, useMemo, useSyncExternalStore } from 'react';
import { paint, type Theme } from '../screens/frame/theme.ts';
import { keyReader, type ReadKeys } from './keys.ts';
import { picture } from './picture.ts';
import type { App } from './run.ts';
import { spokenLines } from './spoken.ts';

/** One Text a row: React and Ink then touch only the rows that changed. */
const Row = memo(({ text }: { readonly text: string }) => <Text wrap="truncate">{text}</Text>);
Row.displayName = 'Row';

/** Hands the terminal over for a while; the promise ends when it is ours again. */
export type HandOver = (meanwhile: () => Promise<void>) => Promise<void>;

type FrameProps = {
  readonly app: App;
  readonly theme: Theme;
  /** Gives the shell the means to suspend. */
  readonly onReady: (handOver: HandOver) => void;
};

const timing = {
  now: () => performance.now(),
  later: (work: () => void, ms: number) => {
    setTimeout(work, ms);
  },
};

function press(app: App, { keys, ms, dropped }: ReadKeys): void {
  for (const key of keys) app.dispatch({ type: 'key', key, ms });
  if (keys.length > 1) app.dispatch({ type: 'read-over', ms });
  if (dropped > 0)
    app.dispatch({
      type: 'said',
      tone: 'plain',
      text: 'That looked like a paste: its first line was taken, and nothing after it.',
    });
}

/** Keys and pastes, in whichever way the screen is shown. */
function useKeys(app: App, onReady: FrameProps['onReady']): void {
  const { suspendTerminal } = useApp();
  useEffect(() => onReady((meanwhile) => suspendTerminal(meanwhile)), [onReady, suspendTerminal]);
  const read = useMemo(() => keyReader(timing, (one) => press(app, one)), [app]);
  useInput(read);
  usePaste((text) => app.dispatch({ type: 'paste', text }));
}

/** For a screen reader: line by line, nothing drawn. */
export function Spoken({ app, onReady }: Omit<FrameProps, 'theme'>) {
  const state = useSyncExternalStore(app.subscribe, app.state);
  useKeys(app, onReady);
  return (
    <Box flexDirection="column">
      {spokenLines(state).map((text, index) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: a line is its place in what is read
        <Text key={index}>{text}</Text>
      ))}
    </Box>
  );
}

export function Frame({ app, theme, onReady }: FrameProps) {
  const state = useSyncExternalStore(app.subscribe, app.state);
  const { columns, rows } = useWindowSize();
  useEffect(() => {
    const { size } = app.state();
    if (size.columns !== columns || size.rows !== rows)
      app.dispatch({ type: 'resize', size: { columns, rows } });
  }, [app, columns, rows]);
  useKeys(app, onReady);
  const fitting =
    state.size.columns === columns && state.size.rows === rows
      ? state
      : { ...state, size: { columns, rows } };
  return (
    <Box flexDirection="column" width={columns} height={rows} overflow="hidden">
      {picture(fitting).map((content, index) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: a row is its place on the screen
        <Row key={index} text={paint(content, theme)} />
      ))}
    </Box>
  );
}
