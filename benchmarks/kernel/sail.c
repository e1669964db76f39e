/* The equations of leadsman.simulation.kernel written by hand in C, with the same record layout: the yardstick for the
   compiled kernel. No wind, banks, pods, pitch, thrusters, tugs, anchors or faults: the branches the benchmark's ship does not take are left out of both runs'
   work, not of the Python source. Build: cc -O3 -shared -fPIC -o sail.so sail.c -lm */

#include <math.h>

typedef struct {
    double length, beam, draught_forward, draught_aft, mass, centre_of_gravity, yaw_inertia;
    double surge_added_mass, sway_added_mass, yaw_added_inertia, R0, R1, R2, greatest_froude, astern_resistance;
    double cross_flow_drag, cross_flow_swing, cross_flow_yaw, bank_effect, windage, shallow_yaw, squat;
    double Xvv, Xvr, Xrr, Xvvvv, Yv, Yr, Yvv, Yrr, Yvvv, Yvvr, Yvrr, Yrrr, Nv, Nr, Nvv, Nrr, Nvvv, Nvvr, Nvrr, Nrrr;
} Hull;

typedef struct {
    double row, rows, diameter, pitch_ratio, hand, controllable, azimuthing, rudder, position, offset, wake, wake_loss;
    double wake_gain_starboard, wake_gain_port, wake_astern, thrust_deduction, thrust_deduction_astern;
    double transverse_ahead, transverse_astern, thrust_factor, astern_factor;
} Screw;

typedef struct {
    double area, slope, stall, greatest_normal, greatest_angle, turning_limit, rate, position, offset, propeller;
    double race_share, race_factor, wake_ratio, wake, straightening_starboard, straightening_port;
    double straightening_position, steering_deduction, force_increase, force_position, force_factor;
} Blade;

typedef struct {
    double kind, full_speed, least_speed, manoeuvring_speed, full_torque, astern_torque, delay, ramp, sea_ramp, fall;
    double start_speed, start_time, reverse_time, zero_torque, stick_speed, spin_down, starts, recharge, pitch_rate;
} Machine;

typedef struct {
    double fyv, fyr, fnr, fnv, gnr, Yv, Yr, Nr, surge_added_mass, sway_added_mass, yaw_added_inertia;
    double wake, thrust, straightening, resistance, cross_flow_drag, transverse_thrust;
} Shallow;

typedef struct {
    double order_speed, order_pitch, pending_speed, pending_pitch, active_speed, active_pitch, due;
    double speed, speed_before, pitch, pitch_before, running, waited, starts, starts_made, failed_starts;
    double torque, thrust, advance, fault;
} Shaft;

typedef struct {
    double order, angle, angle_before, fault;
} Helm;

typedef struct {
    double position, thrust, ramp, immersion, greatest_speed;
} Tunnel;

typedef struct {
    double position, offset, home, sector, line_pull, push_pull, line_row, push_row, wash_shallow, reaction, slew, ramp;
} TugAtWork;

typedef struct {
    double position, offset, hawse, mass, weight, holding, drag_ratio, brake, most, veer, heave;
} Anchor;

typedef struct {
    double order, share, share_before, force, fault;
} Thruster;

typedef struct {
    double order_direction, order_power, next_direction, next_power, next_due, pending_direction, pending_power, active_direction, active_power, due;
    double way, angle, angle_before, power, power_before, force, fault;
} Tow;

typedef struct {
    double order, out, on_bed, north, east, dragged, pull;
} Cable;

typedef struct {
    double north, east, heading, surge, sway, yaw_rate;
} Motion;

enum { MOST_UNITS = 6, MOST_TUGS = 8, MOST_ANCHORS = 2, KNOTS = 9, TUG_ROWS = 5 };
enum { MOST_PITCHES = 8, LINES = 183, STEPS = 360, STRIDE = 363, WIND_STEPS = 72 };

typedef struct {
    Hull hull;
    Screw screws[MOST_UNITS];
    Blade blades[MOST_UNITS];
    Machine machines[MOST_UNITS];
    Tunnel tunnels[MOST_UNITS];
    TugAtWork works[MOST_TUGS];
    Anchor anchors[MOST_ANCHORS];
    long long screw_count, blade_count, tunnel_count, tug_count, anchor_count;
} Ship;

typedef struct {
    double thrust[MOST_PITCHES][STRIDE], torque[MOST_PITCHES][STRIDE], pitches[MOST_PITCHES];
    Shallow shallow[LINES];
    double wind[WIND_STEPS][3], thruster_shares[3][KNOTS], tug_shares[TUG_ROWS][KNOTS];
} Tables;

typedef struct {
    Shaft shafts[MOST_UNITS];
    Helm helms[MOST_UNITS];
    Thruster thrusters[MOST_UNITS];
    Tow tugs[MOST_TUGS];
    Cable cables[MOST_ANCHORS];
    Shallow factors;
    double wave_speed, depth;
} Gear;

static const Tables *tables; /* one set at a time, as in the kernel's run */
static double density;

int size_of_ship(void) { return sizeof(Ship); }
int size_of_tables(void) { return sizeof(Tables); }
int size_of_gear(void) { return sizeof(Gear); }

static const double PI = 3.141592653589793, GRAVITY = 9.81, SLOWEST = 1e-6;

static double least(double a, double b) { return a < b ? a : b; }
static double most(double a, double b) { return a > b ? a : b; }
static double sign(double a) { return (a > 0.0) - (a < 0.0); }
static double smoothstep(double share) {
    double held = least(most(share, 0.0), 1.0);
    return held * held * (3.0 - 2.0 * held);
}

static double cubic(const double *p, double share) {
    double before = p[0], left = p[1], right = p[2], after = p[3];
    return left + 0.5 * share * (right - before + share * (2.0 * before - 5.0 * left + 4.0 * right - after
        + share * (3.0 * (left - right) + after - before)));
}

static double read_quadrants(const double *line, double beta) {
    double place = beta * (STEPS / (2.0 * PI));
    place -= STEPS * floor(place / STEPS);
    int index = (int)place;
    if (index > STEPS - 1) index = STEPS - 1;
    return cubic(line + index, place - index);
}

static double ramped(double value, double target, double step) {
    return value + least(most(target - value, -step), step);
}

/* ---- engine ---- */

static double torque_at(const Screw *screw, double turning, double inflow) {
    double around = 0.7 * PI * turning * screw->diameter;
    double star = read_quadrants(tables->torque[(int)screw->row], atan2(inflow, around));
    double d = screw->diameter;
    return star * 0.125 * density * (inflow * inflow + around * around) * PI * d * d * d;
}

static double torque_limit(const Machine *m, double turning) {
    double full = turning >= 0.0 ? m->full_torque : m->astern_torque;
    return full * least(1.0, 0.5 + 0.65 * fabs(turning) / m->full_speed);
}

static double towards(const Machine *m, double speed, double target, double interval) {
    double rate = m->fall;
    if (fabs(target) > fabs(speed) && target * speed >= 0.0)
        rate = fabs(speed) < m->manoeuvring_speed ? m->ramp : m->sea_ramp;
    return isinf(rate) ? target : ramped(speed, target, rate * interval);
}

static double held(const Screw *screw, const Machine *m, double target, double inflow) {
    if (isinf(torque_limit(m, target)) || target == 0.0) return target;
    for (int i = 0; i < 2; i++) {
        double taken = torque_at(screw, target, inflow);
        if (taken * target > 0.0)
            target *= sqrt(least(1.0, torque_limit(m, target) / most(fabs(taken), 1e-9)));
    }
    return target;
}

static void fuel(const Machine *m, Shaft *s, double target, double interval) {
    double way = sign(target);
    if (s->running * way < 0.0) {
        s->waited = least(m->start_time - m->reverse_time, 0.0);
        s->running = 0.0;
    }
    if (way == 0.0) {
        s->waited = 0.0;
        s->running = 0.0;
        return;
    }
    if (s->running != 0.0) return;
    if (s->waited < 0.0) {
        s->waited = least(s->waited + interval, 0.0);
    } else if (s->speed * way > m->start_speed) {
        s->running = way;
    } else if (fabs(s->speed) <= m->start_speed) {
        s->waited += interval;
        if (s->waited < m->start_time) return;
        s->waited = 0.0;
        if (m->kind == 0.0) {
            if (s->starts < 1.0) {
                s->failed_starts += 1.0;
                return;
            }
            s->starts -= 1.0;
            s->starts_made += 1.0;
        }
        s->running = way;
    }
}

static void drive(const Ship *ship, int index, Shaft *s, double time, double interval) {
    const Machine *m = ship->machines + index;
    const Screw *screw = ship->screws + index;
    double inflow = s->advance;
    if (s->order_speed != s->pending_speed || s->order_pitch != s->pending_pitch) {
        s->pending_speed = s->order_speed;
        s->pending_pitch = s->order_pitch;
        s->due = time + m->delay;
    }
    if (time >= s->due) {
        s->active_speed = s->pending_speed;
        s->active_pitch = s->pending_pitch;
    }
    s->speed_before = s->speed;
    s->pitch_before = s->pitch;
    double target = s->active_speed;
    fuel(m, s, target, interval);
    if (s->running != 0.0) {
        double slowest = sign(target) * m->least_speed;
        if (fabs(target) < m->least_speed) target = slowest;
        if (fabs(s->speed) < m->least_speed || s->speed * target < 0.0)
            s->speed = ramped(s->speed, slowest, m->fall * interval);
        else
            s->speed = towards(m, s->speed, held(screw, m, target, inflow), interval);
    } else {
        double free = inflow / (m->zero_torque * screw->diameter);
        free = sign(free) * sqrt(most(free * free - m->stick_speed * m->stick_speed, 0.0));
        if (s->waited > 0.0) free = 0.0;
        s->speed = free + (s->speed - free) * exp(-interval / m->spin_down);
    }
    s->torque = torque_at(screw, s->speed, inflow);
    s->starts = least(s->starts + interval / m->recharge, most(m->starts, s->starts));
}

/* ---- forces ---- */

typedef struct {
    double surge, sway, yaw;
} Force;

static void cross_flow(double sway, double swing, double *force, double *moment) {
    if (fabs(sway) >= 0.5 * fabs(swing)) {
        double side = sign(sway);
        *force = side * (sway * sway + swing * swing / 12.0);
        *moment = side * sway * swing / 6.0;
        return;
    }
    double pivot = sway / swing, bow = 0.5 + pivot, stern = 0.5 - pivot, scale = swing * fabs(swing);
    double cubes = bow * bow * bow - stern * stern * stern;
    *force = scale * cubes / 3.0;
    *moment = scale * (0.25 * (bow * bow * bow * bow + stern * stern * stern * stern) - pivot * cubes / 3.0);
}

static Force hull_force(const Hull *h, const Shallow *f, double wave, double u, double v, double r_) {
    double swing = r_ * h->length;
    double froude = least(fabs(u * wave) / sqrt(GRAVITY * h->length), h->greatest_froude);
    double drag = (h->R0 + froude * (h->R1 + froude * h->R2)) * f->resistance * wave * wave;
    double speed = most(sqrt(u * u + v * v), SLOWEST);
    double drifting = smoothstep((0.9063 - u / speed) / (0.9063 - 0.5));
    double spinning = smoothstep((fabs(swing) / speed - 2.0) / 2.0);
    double share = 1.0 - (1.0 - drifting) * (1.0 - spinning);
    double X = 0.0, Y = 0.0, N = 0.0;
    if (share < 1.0) {
        double a = v / speed, r = swing / speed, aa = a * a, rr = r * r, w = (1.0 - share) * speed * speed;
        X += w * (-drag + f->fyv * aa * (h->Xvv + h->Xvvvv * aa) + f->fyr * h->Xvr * a * r + f->fnr * h->Xrr * rr);
        Y += w * (f->Yv * h->Yv * a + f->Yr * h->Yr * r
            + f->fyv * (a * (h->Yvv * fabs(a) + h->Yvvv * aa) + aa * r * h->Yvvr + a * rr * h->Yvrr)
            + f->gnr * r * (h->Yrr * fabs(r) + h->Yrrr * rr));
        N += w * (f->fnv * h->Nv * a + f->Nr * h->Nr * r
            + f->fyv * (a * (h->Nvv * fabs(a) + h->Nvvv * aa) + aa * r * h->Nvvr + a * rr * h->Nvrr)
            + f->gnr * r * (h->Nrr * fabs(r) + h->Nrrr * rr));
    }
    if (share > 0.0) {
        double ahead = fabs(u), push = drag * (u >= 0.0 ? 1.0 : h->astern_resistance);
        double blocking = h->cross_flow_drag * f->cross_flow_drag, side, moment, unused;
        cross_flow(v, h->cross_flow_swing * swing, &side, &unused);
        cross_flow(v, h->cross_flow_yaw * swing, &unused, &moment);
        X += share * (-push * u * ahead + f->fyr * h->Xvr * v * swing);
        Y += share * (f->Yv * h->Yv * ahead * v + f->Yr * h->Yr * u * swing - blocking * side);
        N += share * (f->fnv * h->Nv * u * v + f->Nr * h->Nr * ahead * swing - blocking * moment);
    }
    double scale = 0.25 * density * h->length * (h->draught_forward + h->draught_aft);
    return (Force){scale * X, scale * Y, scale * h->length * N};
}

static Force screw_force(const Ship *ship, int index, const Shallow *f, double u, double v, double r, Shaft *s, double part) {
    const Screw *k = ship->screws + index;
    double speed = sqrt(u * u + v * v), ahead = u - k->offset * r, cross = v + k->position * r, inflow;
    if (ahead < 0.0) {
        inflow = ahead * (1.0 - k->wake_astern);
    } else {
        double angle = least(most(-cross / most(speed, SLOWEST), -1.0), 1.0);
        double wake = least(k->wake * f->wake, 0.6);
        double gain = angle > 0.0 ? k->wake_gain_starboard : k->wake_gain_port;
        inflow = ahead * (1.0 - wake) * (1.0 + (1.0 - exp(-k->wake_loss * fabs(angle))) * (gain - 1.0));
    }
    double turning = s->speed_before + part * (s->speed - s->speed_before);
    double pitch = s->pitch_before + part * (s->pitch - s->pitch_before);
    double d = k->diameter, around = 0.7 * PI * turning * d;
    double star = read_quadrants(tables->thrust[(int)k->row], atan2(inflow, around));
    double thrust = star * 0.125 * density * (inflow * inflow + around * around) * PI * d * d * k->thrust_factor;
    if (turning * pitch < 0.0) thrust *= k->astern_factor;
    s->thrust = thrust;
    s->advance = inflow;
    double deduction = thrust >= 0.0 ? k->thrust_deduction : k->thrust_deduction_astern;
    double X = thrust * (1.0 - deduction) * f->thrust;
    double square = 0.3 * turning * d * 0.3 * turning * d;
    double fading = square / most(square + u * u, 1e-12) * f->transverse_thrust;
    double share = thrust >= 0.0 ? k->transverse_ahead : k->transverse_astern;
    double Y = k->hand * sign(turning) * share * fabs(thrust) * fading;
    return (Force){X, Y, k->position * Y - k->offset * X};
}

static double normal_coefficient(double angle, double slope, double stall, double greatest) {
    double size = fabs(angle), side = sign(angle);
    if (size > 0.5 * PI) {
        size = PI - size;
        slope *= 0.65;
        stall = 25.0 * PI / 180.0;
        greatest *= 0.65;
    }
    double peak = least(slope * sin(stall), greatest), width = 10.0 * PI / 180.0;
    if (size <= stall) return side * least(slope * sin(size), greatest);
    if (size <= stall + width) return side * peak * (1.0 - 0.25 * (size - stall) / width);
    double share = (size - stall - width) / (0.5 * PI - stall - width);
    return side * (0.75 * peak + share * (1.2 - 0.75 * peak));
}

static Force rudder_force(const Ship *ship, int index, const Shallow *f, double u, double v, double r, const Shaft *shafts,
                          double angle) {
    const Blade *b = ship->blades + index;
    double length = ship->hull.length, speed = sqrt(u * u + v * v);
    double ahead = smoothstep(0.5 + 0.5 * u / (0.2 * most(speed, SLOWEST)));
    const Shaft *s = shafts + (int)b->propeller;
    double d = ship->screws[(int)b->propeller].diameter, disc = 0.25 * PI * d * d;
    double entering = s->advance, thrust = s->thrust, gain = 0.0, kept = 1.0;
    if (entering >= 0.0 || thrust > 0.0)
        gain = sqrt(most(entering * entering + 2.0 * thrust / (density * disc), 0.0)) - fabs(entering);
    double inside = entering + b->race_factor * gain;
    double mean = b->race_share * inside * fabs(inside) + (1.0 - b->race_share) * entering * fabs(entering);
    double inflow = b->wake_ratio * sign(mean) * sqrt(fabs(mean));
    if (thrust < 0.0 && entering > 0.0) {
        double loading = -2.0 * thrust / (density * disc * most(entering * entering, SLOWEST));
        kept = 1.0 - 0.75 * smoothstep((loading - 1.0) / 2.0);
    }
    double race = sqrt(most(entering * entering + 2.0 * thrust / (density * disc), 0.0));
    double induced = entering >= 0.2 * race && entering > 0.0 ? 1.0 : most(entering, 0.0) / most(0.2 * race, SLOWEST);
    double place = ahead * b->straightening_position * length + (1.0 - ahead) * b->position;
    double slip = -(v + place * r);
    double straightening = slip > 0.0 ? b->straightening_starboard : b->straightening_port;
    straightening = ahead * straightening * f->straightening + (1.0 - ahead);
    double across = straightening * slip;
    double attack = angle - atan2(across, inflow);
    attack -= 2.0 * PI * floor(attack / (2.0 * PI) + 0.5);
    double normal = kept * b->force_factor * 0.5 * density * b->area * (inflow * inflow + across * across)
        * normal_coefficient(attack, b->slope, b->stall, b->greatest_normal);
    double increase = ahead * induced * b->force_increase, size = fabs(angle);
    double bent = sign(angle) * (least(size, b->turning_limit) + 0.2 * most(size - b->turning_limit, 0.0));
    double side = normal * cos(bent), X = -(1.0 - b->steering_deduction) * normal * sin(angle);
    return (Force){X, -(1.0 + increase) * side, -(b->position + increase * b->force_position * length) * side - b->offset * X};
}

static Motion rates(const Ship *ship, Motion q, Shaft *shafts, const Helm *helms, double part, const Shallow *f, double wave) {
    const Hull *h = &ship->hull;
    double u = q.surge, v = q.sway, r = q.yaw_rate;
    Force total = hull_force(h, f, wave, u, v, r);
    for (int i = 0; i < ship->screw_count; i++) {
        Force push = screw_force(ship, i, f, u, v, r, shafts + i, part);
        total.surge += push.surge, total.sway += push.sway, total.yaw += push.yaw;
    }
    for (int i = 0; i < ship->blade_count; i++) {
        double angle = helms[i].angle_before + part * (helms[i].angle - helms[i].angle_before);
        Force push = rudder_force(ship, i, f, u, v, r, shafts, angle);
        total.surge += push.surge, total.sway += push.sway, total.yaw += push.yaw;
    }
    double cosine = cos(q.heading), sine = sin(q.heading), arm = h->mass * h->centre_of_gravity;
    double mx = h->mass + h->surge_added_mass * f->surge_added_mass;
    double my = h->mass + h->sway_added_mass * f->sway_added_mass;
    double inertia = h->yaw_inertia + arm * h->centre_of_gravity + h->yaw_added_inertia * f->yaw_added_inertia;
    double X = total.surge + my * v * r + arm * r * r, Y = total.sway - mx * u * r, N = total.yaw - arm * u * r;
    double determinant = my * inertia - arm * arm;
    return (Motion){u * cosine - v * sine, u * sine + v * cosine, r,
                    X / mx, (inertia * Y - arm * N) / determinant, (my * N - arm * Y) / determinant};
}

static Motion moved(Motion q, Motion k, double t) {
    return (Motion){q.north + t * k.north, q.east + t * k.east, q.heading + t * k.heading,
                    q.surge + t * k.surge, q.sway + t * k.sway, q.yaw_rate + t * k.yaw_rate};
}

static Shallow between(const Shallow *low, const Shallow *high, double share) {
    Shallow found;
    const double *a = &low->fyv, *b = &high->fyv;
    double *c = &found.fyv;
    for (int i = 0; i < (int)(sizeof(Shallow) / sizeof(double)); i++) c[i] = a[i] + share * (b[i] - a[i]);
    return found;
}

static Motion step(const Ship *ship, Motion q, Gear *gear, double depth, double time, double interval) {
    const Hull *h = &ship->hull;
    double draught = 0.5 * (h->draught_forward + h->draught_aft);
    double place = least(1.1 * draught / depth, 1.0) * (LINES - 1);
    int index = (int)place;
    if (index > LINES - 2) index = LINES - 2;
    gear->factors = between(tables->shallow + index, tables->shallow + index + 1, place - index);
    double stiffer = 1.0 + h->shallow_yaw * (draught / depth) * (draught / depth);
    gear->factors.Nr *= stiffer;
    gear->factors.gnr *= stiffer;
    gear->wave_speed = 1.0 / sqrt(tanh(GRAVITY * depth / most(q.surge * q.surge, 1e-12)));
    gear->depth = depth;
    for (int i = 0; i < ship->blade_count; i++) {
        Helm *w = gear->helms + i;
        const Blade *b = ship->blades + i;
        w->angle_before = w->angle;
        double wanted = least(most(w->order, -b->greatest_angle), b->greatest_angle);
        w->angle = ramped(w->angle, wanted, b->rate * interval);
    }
    for (int i = 0; i < ship->screw_count; i++) drive(ship, i, gear->shafts + i, time, interval);
    const Shallow *f = &gear->factors;
    double wave = gear->wave_speed;
    Motion a = rates(ship, q, gear->shafts, gear->helms, 0.0, f, wave);
    Motion b = rates(ship, moved(q, a, 0.5 * interval), gear->shafts, gear->helms, 0.5, f, wave);
    Motion c = rates(ship, moved(q, b, 0.5 * interval), gear->shafts, gear->helms, 0.5, f, wave);
    Motion d = rates(ship, moved(q, c, interval), gear->shafts, gear->helms, 1.0, f, wave);
    Motion mean = {(a.north + 2.0 * (b.north + c.north) + d.north) / 6.0, (a.east + 2.0 * (b.east + c.east) + d.east) / 6.0,
                   (a.heading + 2.0 * (b.heading + c.heading) + d.heading) / 6.0,
                   (a.surge + 2.0 * (b.surge + c.surge) + d.surge) / 6.0, (a.sway + 2.0 * (b.sway + c.sway) + d.sway) / 6.0,
                   (a.yaw_rate + 2.0 * (b.yaw_rate + c.yaw_rate) + d.yaw_rate) / 6.0};
    return moved(q, mean, interval);
}

/* Alternate the rudder every `period` steps between +angle and -angle: steady work with ramps in it. */
void sail(const Ship *ships, const Tables *shared, Gear *gears, double *motions, int runs, double water, double depth,
          double angle, int period, double interval, int count) {
    tables = shared;
    density = water;
    for (int run = 0; run < runs; run++) {
        const Ship *ship = ships + run;
        Gear *gear = gears + run;
        Motion *q = (Motion *)(motions + 6 * run);
        for (int i = 0; i < count; i++) {
            for (int j = 0; j < ship->blade_count; j++) gear->helms[j].order = (i / period) % 2 ? -angle : angle;
            *q = step(ship, *q, gear, depth, i * interval, interval);
        }
    }
}
