/**
 * Memory for so many values, all 0, that is used over and over: what was given out holds until it is asked for again.
 * For the largest pieces of work that nobody keeps, each with a room of its own.
 */
export function workRoom(): (count: number) => Float64Array {
  let room = new Float64Array(0);
  return (count) => {
    if (room.length < count) room = new Float64Array(count);
    return room.subarray(0, count).fill(0);
  };
}
