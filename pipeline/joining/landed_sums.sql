-- One row per trip and pattern of factors: the value of all hauls with a whole priced catch record.
-- Foul tows count here, unlike where fish are compared: what a torn or lost tow did not bring is part
-- of what a rig earns. A foul tow without a catch record is counted, and its hours are not.
with

priced_seasons as (
    select distinct season from prices
),

lacking as (
    select distinct vessel, trip, haul from hauls_missing_catch
),

haul_values as (
    select
        priced_catches.vessel,
        priced_catches.trip,
        priced_catches.haul,
        case
            when max(case when priced_catches.value is null then 1 else 0 end) = 0
                then sum(priced_catches.value)
        end as value
    from priced_catches
    group by priced_catches.vessel, priced_catches.trip, priced_catches.haul
),

landed as (
    select
        hauls.vessel,
        hauls.trip,
        haul_patterns.pattern,
        hauls.tow_hours,
        not coalesce(hauls.valid, true) as foul,
        haul_values.haul is null and lacking.haul is null as unwritten,
        case when lacking.haul is null then haul_values.value end as value
    from hauls
    inner join haul_patterns on hauls.row = haul_patterns.row
    left join haul_values
        on hauls.vessel = haul_values.vessel
        and hauls.trip = haul_values.trip
        and hauls.haul = haul_values.haul
    left join lacking
        on hauls.vessel = lacking.vessel
        and hauls.trip = lacking.trip
        and hauls.haul = lacking.haul
    inner join haul_seasons on hauls.row = haul_seasons.row
    inner join priced_seasons on haul_seasons.season = priced_seasons.season
),

final as (
    select
        vessel,
        trip,
        pattern,
        count(value) as hauls,
        sum(case when value > 0 then 1 else 0 end) as hauls_with_some,
        sum(case when foul and value is not null then 1 else 0 end) as foul_hauls,
        sum(case when foul and unwritten then 1 else 0 end) as foul_without_record,
        sum(case when value is not null then tow_hours else 0 end) as tow_hours,
        coalesce(sum(value), 0) as total
    from landed
    group by vessel, trip, pattern
)

select * from final
order by vessel, trip, pattern
