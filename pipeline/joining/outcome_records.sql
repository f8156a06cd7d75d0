-- One row per outcome: of how many hauls it could have been recorded, and of how many it was.
-- Hours of mending and hours lost can only be missing where there was damage, and a foul tow's catch
-- is not missing: it is not compared. A catch of which a row was set aside was written all the same.
with

damage as (
    select
        'damage_events' as outcome,
        count(*) as hauls,
        count(damage_events) as recorded,
        0 as set_aside
    from measured_hauls
),

mending as (
    select
        'mending_hours' as outcome,
        count(*) as hauls,
        count(mending_hours) as recorded,
        0 as set_aside
    from measured_hauls
    where damage_events > 0
),

lost as (
    select
        'hours_lost' as outcome,
        count(*) as hauls,
        count(hours_lost) as recorded,
        0 as set_aside
    from measured_hauls
    where damage_events > 0
),

catch as (
    select
        'catch' as outcome,
        count(*) as hauls,
        count(measured_hauls.bottom_living_kg) as recorded,
        count(lacking.haul) as set_aside
    from measured_hauls
    inner join hauls on measured_hauls.row = hauls.row
    left join hauls_missing_catch as lacking
        on hauls.vessel = lacking.vessel
        and hauls.trip = lacking.trip
        and hauls.haul = lacking.haul
    where coalesce(hauls.valid, true)
),

final as (
    select * from damage
    union all
    select * from mending
    union all
    select * from lost
    union all
    select * from catch
)

select * from final
