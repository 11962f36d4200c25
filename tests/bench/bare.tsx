// The floor: a bare Ink app of the same size that changes as many rows on a key, with no program behind it.
if (process.stdin.isTTY) process.stdin.setRawMode(true);
const { Box, render, Text, useInput, useWindowSize } = await import('ink');
const { useState } = await import('react');

function Bare() {
  const { columns, rows } = useWindowSize();
  const [typed, setTyped] = useState('');
  useInput((input, key) => {
    if (key.ctrl && input === 'c') process.exit(0);
    setTyped((before) => (key.return ? '' : before + input));
  });
  const list = Array.from(
    { length: rows - 10 },
    (_, row) =>
      `${row === 0 ? '› ' : '  '}${typed} drink number ${row} of the list   family   ${row * 7 + typed.length}`,
  );
  return (
    <Box flexDirection="column" width={columns} height={rows} overflow="hidden">
      <Text>Bare</Text>
      <Text>{`▸ ${typed}`}</Text>
      {list.map((text, row) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: a row is its place
        <Text key={row} wrap="truncate">
          {`${text.padEnd(56)}  ${typed} side panel line ${row}`.padEnd(columns).slice(0, columns)}
        </Text>
      ))}
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
