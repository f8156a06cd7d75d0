-- One row per catch row: its kilos, its group, and its value at its season's price of its day.
with

price_ends as (
    select
        season,
        species,
        price_per_kg,
        valid_from,
        lead(valid_from) over (partition by season, species order by valid_from) as valid_to
    from prices
),

dated as (
    select
        catches.row,
        catches.vessel,
        catches.trip,
        catches.haul,
        haul_seasons.season,
        catches.species,
        catches.kept_kg,
        hauls.shot_at,
        case
            when catches.kept_kg is not null or catches.discarded_kg is not null
                then coalesce(catches.kept_kg, 0) + coalesce(catches.discarded_kg, 0)
        end as kg
    from catches
    inner join hauls
        on catches.vessel = hauls.vessel
        and catches.trip = hauls.trip
        and catches.haul = hauls.haul
    inner join haul_seasons on hauls.row = haul_seasons.row
),

priced_species as (
    select distinct season, species from prices
),

final as (
    select
        dated.row,
        dated.vessel,
        dated.trip,
        dated.haul,
        dated.species,
        dated.kg,
        known_species.bottom_living,
        case
            when priced_species.species is null or dated.kept_kg = 0 then 0
            else dated.kept_kg * price_ends.price_per_kg
        end as value
    from dated
    inner join known_species on dated.species = known_species.species
    left join priced_species
        on dated.season = priced_species.season
        and dated.species = priced_species.species
    left join price_ends
        on dated.season = price_ends.season
        and dated.species = price_ends.species
        and dated.shot_at >= price_ends.valid_from
        and (price_ends.valid_to is null or dated.shot_at < price_ends.valid_to)
)

select * from final
