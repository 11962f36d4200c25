// The frame: the one input hook, the one paste hook, and the picture painted row by row.
import { Box, Text, useInput, usePaste, useWindowSize } from 'ink';
import { memo, useEffect, useSyncExternalStore } from 'react';
import { paint, type Theme } from '../screens/theme.ts';
import { keysOf } from './keys.ts';
import { picture } from './picture.ts';
import type { App } from './run.ts';

/** One Text a row: React and Ink then touch only the rows that changed. */
const Row = memo(({ text }: { readonly text: string }) => <Text wrap="truncate">{text}</Text>);
Row.displayName = 'Row';

export function Frame({ app, theme }: { readonly app: App; readonly theme: Theme }) {
  const state = useSyncExternalStore(app.subscribe, app.state);
  const { columns, rows } = useWindowSize();
  useEffect(() => {
    const { size } = app.state();
    if (size.columns !== columns || size.rows !== rows)
      app.dispatch({ type: 'resize', size: { columns, rows } });
  }, [app, columns, rows]);
  useInput((input, key) => {
    for (const one of keysOf(input, key)) app.dispatch({ type: 'key', key: one });
  });
  usePaste((text) => app.dispatch({ type: 'paste', text }));
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
