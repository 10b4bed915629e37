// Lines of a job, as the screens would write them. All invented.
export const SETTINGS = {
  technician: 'Robin Invented',
  shop: 'Invented Driveline Shop',
  hand: 'right',
  paper: 'bay',
  glove: false,
  meter: null,
};

export function car(plate, odometer_km = 118_400) {
  const description = 'invented estate car';
  const car = { plate, vin: null, description, odometer_km, fluid_changed_at_km: null };
  return { fact: 'car_noted', car };
}

export const tick = (step) => ({ fact: 'step_ticked', step });

export const solenoid = (name) => ({
  fact: 'component_noted',
  component: { name, kind: 'on_off_solenoid', connector: '', part_number: '', codes: [] },
});

/** 11 to 15 ohm at 20 °C: the figure that the issue of this test names. */
export const limits = (component) => ({
  fact: 'spec_entered',
  component,
  spec: { quantity: 'resistance', low: 11, high: 15, at_c: 20, source: 'invented manual' },
});

/** Past the first run, with one job whose car is known and ticked. */
export async function takenIn(hub, plate, odometer_km) {
  await hub.call({ do: 'save_settings', settings: SETTINGS });
  const { job } = await hub.call({ do: 'open_job', procedure: null });
  await hub.write(job.id, car(plate, odometer_km));
  await hub.write(job.id, tick('car'));
  return job.id;
}
