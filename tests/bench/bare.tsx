// The floor: a bare Ink app that draws a screen of the same make (bold names, one inverse row, bars, a side panel) and
// changes as many rows on a key, with no program behind it. With `plain` as its word it draws plain text only, the lowest
// floor there is; both are printed.
if (process.stdin.isTTY) process.stdin.setRawMode(true);
const { Box, render, Text, useInput, useWindowSize } = await import('ink');
const { useState } = await import('react');

const isPlain = process.argv.includes('plain');

function Bare() {
  const { columns, rows } = useWindowSize();
  const [typed, setTyped] = useState('');
  useInput((input, key) => {
    if (key.ctrl && input === 'c') process.exit(0);
    setTyped((before) => (key.return ? '' : before + input));
  });
  const list = Array.from({ length: rows - 4 }, (_, row) => row);
  return (
    <Box flexDirection="column" width={columns} height={rows} overflow="hidden">
      <Text bold>{'[Bare]  a house · a night · somebody pouring'.padEnd(columns)}</Text>
      <Text>{`▸ ${typed}`.padEnd(columns)}</Text>
      {list.map((row) =>
        isPlain ? (
          <Text key={row} wrap="truncate">
            {`  ${typed} drink number ${row} of the list   item ${typed} ${row}`.padEnd(columns)}
          </Text>
        ) : (
          <Text key={row} wrap="truncate">
            <Text inverse={row === 0}>
              {`${row === 0 ? '› ' : '  '}${typed} drink number ${row}`.padEnd(54)}
            </Text>
            <Text>{'  '}</Text>
            <Text bold>{`${typed.length} ml`.padEnd(12)}</Text>
            <Text>{`item ${typed} ${row}`.padEnd(34)}</Text>
            <Text>{row < 12 ? '▇▇▇▁▁ ' : '      '}</Text>
            <Text color="yellow">{String(row * 3 + typed.length).padStart(5)}</Text>
          </Text>
        ),
      )}
      <Text>{`${typed.length} keys typed`.padEnd(columns)}</Text>
      <Text>
        <Text bold>Enter</Text> pour <Text bold>^U</Text> take back
      </Text>
    </Box>
  );
}
render(<Bare />, {
  alternateScreen: true,
  incrementalRendering: true,
  exitOnCtrlC: false,
  interactive: true,
  patchConsole: false,
  maxFps: 60,
});

export {};
