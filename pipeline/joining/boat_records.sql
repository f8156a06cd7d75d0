-- One row per boat: did it write down what damage cost, for at least half its damaged hauls?
-- Of a boat that did not, clean hauls with their zero hours would stay and damaged ones drop out.
with

damaged as (
    select
        vessel,
        count(*) as hauls,
        count(mending_hours) as with_mending_hours,
        count(hours_lost) as with_hours_lost,
        count(mending_cost) as with_mending_cost
    from measured_hauls
    where damage_events > 0
    group by vessel
),

boats as (
    select distinct vessel from measured_hauls
),

final as (
    select
        boats.vessel,
        coalesce(2 * damaged.with_mending_hours >= damaged.hauls, true) as keeps_mending_hours,
        coalesce(2 * damaged.with_hours_lost >= damaged.hauls, true) as keeps_hours_lost,
        coalesce(2 * damaged.with_mending_cost >= damaged.hauls, true) as keeps_mending_cost
    from boats
    left join damaged on boats.vessel = damaged.vessel
)

select * from final
