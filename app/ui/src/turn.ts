import { useReducer } from "preact/hooks";

/** useTurn gives a function that draws a component anew. */
export function useTurn(): () => void {
  const [, turn] = useReducer((n: number) => n + 1, 0);
  return () => turn(undefined as never);
}
