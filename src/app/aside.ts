// What was typed and not taken leaves the field of its room and stands beside it: one way, whoever refused it.
import type { RoomName } from '../screens/address.ts';
import { roomNamed } from './rooms.ts';
import { type AppState, sceneOf } from './state.ts';

/** `typed` is what it was, or null for what stands in the field now. */
export function putAside(state: AppState, name: RoomName, typed: string | null): AppState {
  const own = state.inRoom[name];
  const kept = roomNamed(name).refused?.(sceneOf(state), own, typed) ?? own;
  return { ...state, inRoom: { ...state.inRoom, [name]: kept } };
}
