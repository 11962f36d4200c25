// A place for the rooms; filled in with the screens.
export async function openRooms(_: {
  folder: string;
  env: NodeJS.ProcessEnv;
  version: string;
  station?: string;
}): Promise<number> {
  return 0;
}
