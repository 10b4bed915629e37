import { describe, expect, it } from 'vitest';

import { pressed } from '../src/wants/observe';

const choice = (id: string, alone = false) => ({ id, label: id, hold: false, alone, named: false });
const choices = [choice('clean', true), choice('some'), choice('metal'), choice('choked')];

describe('answers of which several may hold', () => {
  it('stand in the order of the procedure, whatever was pressed first', () => {
    expect(pressed(['choked'], 'some', choices)).toEqual(['some', 'choked']);
  });
  it('go away by a second press', () => {
    expect(pressed(['some', 'metal'], 'some', choices)).toEqual(['metal']);
  });
  it('give way to what rules them out, and take its place', () => {
    expect(pressed(['some', 'metal'], 'clean', choices)).toEqual(['clean']);
    expect(pressed(['clean'], 'metal', choices)).toEqual(['metal']);
  });
});
